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
// as Chromium shows it.
func TestPlanPageIsAccessible(t *testing.T) {
	chromium, modules := outside(t, "chromium", "chromium-browser", "google-chrome"), nodePackage(t, "axe-core")
	axe, err := os.ReadFile(filepath.Join(modules, "axe-core", "axe.min.js"))
	if err != nil {
		t.Fatal(err)
	}
	policy := regexp.MustCompile(`(?i)<meta[^>]*content-security-policy[^>]*>`) // it would stop axe-core too
	found := regexp.MustCompile(`(?s)<pre id="axe-found">(.*?)</pre>`)
	page := mustRun(t, "plan", filepath.Join("..", "..", "testdata", "chorale-prelude.musicxml"), "--format", "html")
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
axe.run().then(found => found.violations, error => [{id: "axe-core", help: String(error), nodes: []}]).then(found => {
  const seen = document.createElement("pre");
  seen.id = "axe-found";
  seen.textContent = JSON.stringify(found.map(v => ({id: v.id, help: v.help, nodes: v.nodes.map(n => ({html: n.html}))})));
  document.body.append(seen);
});
</script>`)
	probe.Write(page[i:])
	dir := t.TempDir()
	file := filepath.Join(dir, "plan.html")
	write(t, file, probe.Bytes())
	show := (&url.URL{Scheme: "file", Path: filepath.ToSlash(file)}).String()
	dom, err := exec.Command(chromium, "--headless", "--no-sandbox", "--disable-gpu",
		"--user-data-dir="+filepath.Join(dir, "profile"), "--virtual-time-budget=20000", "--dump-dom", show).Output()
	if err != nil {
		t.Fatal(err)
	}
	m := found.FindSubmatch(dom)
	if m == nil {
		t.Fatal("axe-core did not come to an end")
	}
	var violations []violation
	if err := json.Unmarshal([]byte(html.UnescapeString(string(m[1]))), &violations); err != nil {
		t.Fatal(err)
	}
	for _, v := range violations {
		for _, n := range v.Nodes {
			t.Errorf("%s: %s: %s", v.ID, v.Help, n.HTML)
		}
		if len(v.Nodes) == 0 {
			t.Errorf("%s: %s", v.ID, v.Help)
		}
	}
}
