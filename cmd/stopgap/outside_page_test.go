package main

import (
	"bytes"
	"encoding/json"
	"html"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"testing"
)

// A violation is what axe-core finds against a page.
type violation struct {
	ID    string
	Help  string
	Nodes []struct{ HTML string }
}

// TestPlanPageIsAccessible: axe-core finds nothing against the page of a plan,
// as Chromium shows it: for each reader, on a desk in the light and on a phone
// in the dark.
func TestPlanPageIsAccessible(t *testing.T) {
	chromium, modules := outside(t, "chromium", "chromium-browser", "google-chrome"), nodePackage(t, "axe-core")
	axe, err := os.ReadFile(filepath.Join(modules, "axe-core", "axe.min.js"))
	if err != nil {
		t.Fatal(err)
	}
	for _, reader := range []string{"player", "registrant", "student"} {
		page := mustRun(t, "plan", filepath.Join("..", "..", "testdata", "chorale-prelude.musicxml"), "--format", "html", "--for", reader)
		file := filepath.Join(t.TempDir(), "plan.html")
		write(t, file, withProbe(t, page, axe))
		for _, look := range []struct{ name, width, scheme string }{
			{"light, on a desk", "1280", "1"}, {"dark, on a phone", "390", "0"},
		} {
			t.Run(reader+", "+look.name, func(t *testing.T) {
				for _, v := range violations(t, chromium, file, look.width, look.scheme) {
					for _, n := range v.Nodes {
						t.Errorf("%s: %s: %s", v.ID, v.Help, n.HTML)
					}
					if len(v.Nodes) == 0 {
						t.Errorf("%s: %s", v.ID, v.Help)
					}
				}
			})
		}
	}
}

// withProbe adds axe-core to a page, which leaves what it finds in the page,
// and takes away the policy that lets nothing run in it.
func withProbe(t *testing.T, page, axe []byte) []byte {
	t.Helper()
	policy := regexp.MustCompile(`(?i)<meta[^>]*content-security-policy[^>]*>`)
	if !policy.Match(page) {
		t.Error("the page has no policy against loading anything")
	}
	page = policy.ReplaceAll(page, nil)
	i := bytes.LastIndex(page, []byte("</body>"))
	if i < 0 {
		t.Fatal("the page has no end of its body")
	}
	var probe bytes.Buffer
	probe.Write(page[:i])
	probe.WriteString("<script>")
	probe.Write(axe)
	probe.WriteString(`</script><script>
const width = Number(location.hash.slice(1)); // Chromium's windows are not as narrow as a phone
document.documentElement.style.width = width + "px";
axe.run().then(found => found.violations, error => [{id: "axe-core", help: String(error), nodes: []}]).then(found => {
  if (document.body.scrollWidth > width) {
    found.push({id: "width", help: "the page is wider than " + width, nodes: []});
  }
  const seen = document.createElement("pre");
  seen.id = "axe-found";
  seen.textContent = JSON.stringify(found.map(v => ({id: v.id, help: v.help, nodes: v.nodes.map(n => ({html: n.html}))})));
  document.body.append(seen);
});
</script>`)
	probe.Write(page[i:])
	return probe.Bytes()
}

// violations opens a page with a probe in Chromium, at a width in pixels and in
// one of its colour schemes (0 is dark, 1 light), and returns what was found.
func violations(t *testing.T, chromium, file, width, scheme string) []violation {
	t.Helper()
	show := (&url.URL{Scheme: "file", Path: filepath.ToSlash(file), Fragment: width}).String()
	args := []string{"--headless", "--no-sandbox", "--disable-gpu", "--user-data-dir=" + filepath.Join(t.TempDir(), "profile"),
		"--window-size=" + width + ",900", "--blink-settings=preferredColorScheme=" + scheme}
	dom, err := exec.Command(chromium, append(args, "--virtual-time-budget=20000", "--dump-dom", show)...).Output()
	if err != nil {
		t.Fatal(err)
	}
	m := regexp.MustCompile(`(?s)<pre id="axe-found">(.*?)</pre>`).FindSubmatch(dom)
	if m == nil {
		t.Fatal("axe-core did not come to an end")
	}
	var found []violation
	if err := json.Unmarshal([]byte(html.UnescapeString(string(m[1]))), &found); err != nil {
		t.Fatal(err)
	}
	return found
}
