package sheet

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"stopgap/annotate"
	"stopgap/musicxml"
	"stopgap/registry/shelf"
)

// TestJSONKeepsToTheSchema: the plans of all scores of testdata, and the one
// made by hand, are as testdata/plan.schema.json says.
func TestJSONKeepsToTheSchema(t *testing.T) {
	schema := readSchema(t)
	check := func(name string, r *annotate.Result) {
		var out bytes.Buffer
		if err := JSON(&out, r, name); err != nil {
			t.Fatal(err)
		}
		var value any
		if err := json.Unmarshal(out.Bytes(), &value); err != nil {
			t.Fatal(err)
		}
		for _, fault := range schema.faults(schema.root, value, "") {
			t.Errorf("%s: %s", name, fault)
		}
	}
	check("ten bars", tenBars(t))
	o, err := shelf.Open(shelf.Default())
	if err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob("../../testdata/annotate/*")
	if err != nil || len(files) == 0 {
		t.Fatal("there are no scores in testdata", err)
	}
	for _, file := range files {
		if filepath.Ext(file) == ".md" {
			continue
		}
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		doc, err := musicxml.Read(file, data)
		if err != nil {
			t.Fatal(err)
		}
		r, err := annotate.Plan(doc, o, annotate.Options{})
		if err != nil {
			t.Fatal(err)
		}
		check(filepath.Base(file), r)
	}
}

// TestSchemaFindsFaults: the check of this file finds what is wrong.
func TestSchemaFindsFaults(t *testing.T) {
	schema := readSchema(t)
	var out bytes.Buffer
	if err := JSON(&out, tenBars(t), "ten-bars.musicxml"); err != nil {
		t.Fatal(err)
	}
	for old, wrong := range map[string]string{
		`"octave": 1`:             `"octave": 1.5`,
		`"pitch": "2 2/3"`:        `"pitch": "2⅔"`,
		`"line": "feet"`:          `"line": "pedal"`,
		`"pitch_kept": true`:      `"pitch_kept": "yes"`,
		`"Swell": "shut"`:         `"Swell": "closed"`,
		`"remedies": []`:          `"remedies": null`,
		`"cost": 120`:             `"price": 120`,
		`"ratios": [`:             `"ratios": [0.5,`,
		`"level_db": null`:        `"level_db": "0"`,
		`"title": "Ten Bars"`:     `"title": "Ten Bars", "pages": 2`,
		`"code": "voice-missing"`: `"code": "Voice missing"`,
	} {
		text := strings.Replace(out.String(), old, wrong, 1)
		if text == out.String() {
			t.Errorf("the plan has no %s", old)
			continue
		}
		var value any
		if err := json.Unmarshal([]byte(text), &value); err != nil {
			t.Errorf("%s: %v", wrong, err)
			continue
		}
		if len(schema.faults(schema.root, value, "")) == 0 {
			t.Errorf("no fault was found in %s", wrong)
		}
	}
}

// A jsonSchema is as much of JSON Schema as the plan's schema uses. A keyword
// that is not known here is a fault, so nothing goes unchecked.
type jsonSchema struct{ root map[string]any }

func readSchema(t *testing.T) *jsonSchema {
	t.Helper()
	data, err := os.ReadFile("../../testdata/plan.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	s := &jsonSchema{}
	if err := json.Unmarshal(data, &s.root); err != nil {
		t.Fatal(err)
	}
	return s
}

func (s *jsonSchema) faults(schema map[string]any, value any, at string) []string {
	var out []string
	fault := func(format string, args ...any) { out = append(out, at+": "+fmt.Sprintf(format, args...)) }
	object, isObject := value.(map[string]any)
	array, isArray := value.([]any)
	properties, _ := schema["properties"].(map[string]any)
	for keyword, rule := range schema {
		switch keyword {
		case "$schema", "$defs", "title", "description", "properties":
		case "$ref":
			name, ok := strings.CutPrefix(rule.(string), "#/$defs/")
			to, found := s.root["$defs"].(map[string]any)[name].(map[string]any)
			if !ok || !found {
				fault("the schema has no %v", rule)
				continue
			}
			out = append(out, s.faults(to, value, at)...)
		case "type":
			names, several := rule.([]any)
			if !several {
				names = []any{rule}
			}
			if !slices.ContainsFunc(names, func(n any) bool { return isType(value, n.(string)) }) {
				fault("%v is not of type %v", value, rule)
			}
		case "enum":
			if !slices.ContainsFunc(rule.([]any), func(x any) bool { return reflect.DeepEqual(x, value) }) {
				fault("%v is none of %v", value, rule)
			}
		case "pattern":
			if text, ok := value.(string); ok && !regexp.MustCompile(rule.(string)).MatchString(text) {
				fault("%q does not match %s", text, rule)
			}
		case "minimum":
			if n, ok := value.(float64); ok && n < rule.(float64) {
				fault("%v is less than %v", n, rule)
			}
		case "required":
			for _, key := range rule.([]any) {
				if _, ok := object[key.(string)]; isObject && !ok {
					fault("%v is missing", key)
				}
			}
		case "additionalProperties":
			for key, x := range object {
				if properties[key] != nil {
					continue
				}
				if sub, ok := rule.(map[string]any); ok {
					out = append(out, s.faults(sub, x, at+"/"+key)...)
				} else if rule == false {
					fault("there should be no %q", key)
				}
			}
		case "items":
			for i, x := range array {
				if isArray {
					out = append(out, s.faults(rule.(map[string]any), x, fmt.Sprintf("%s/%d", at, i))...)
				}
			}
		default:
			fault("this check does not know the keyword %q", keyword)
		}
	}
	for key, sub := range properties {
		if x, ok := object[key]; ok {
			out = append(out, s.faults(sub.(map[string]any), x, at+"/"+key)...)
		}
	}
	return out
}

func isType(value any, name string) bool {
	switch x := value.(type) {
	case nil:
		return name == "null"
	case bool:
		return name == "boolean"
	case string:
		return name == "string"
	case float64:
		return name == "number" || name == "integer" && x == math.Trunc(x)
	case []any:
		return name == "array"
	case map[string]any:
		return name == "object"
	}
	return false
}
