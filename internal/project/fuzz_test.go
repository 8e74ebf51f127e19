package project

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
)

// FuzzDecode checks that no input makes Decode panic, that every refusal is a
// Broken with a text, and that what is accepted is valid and survives writing.
func FuzzDecode(f *testing.F) {
	for _, folder := range []string{"testdata/versions", refusedFolder, "assets/samples"} {
		files, err := filepath.Glob(filepath.Join(repository, folder, "*.json"))
		if err != nil {
			f.Fatal(err)
		}
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(data)
		}
	}
	schema := resolvedSchema(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		p, unknown, err := Decode(data)
		if err != nil {
			var b *Broken
			if !errors.As(err, &b) || b.ID == "" {
				t.Fatalf("a refusal without a text: %v", err)
			}
			return
		}
		if err := Validate(&p); err != nil {
			t.Fatalf("accepted, but broken: %v", err)
		}
		out, err := Encode(p) // compares what it wrote with p
		if err != nil {
			t.Fatalf("accepted, but not written: %v", err)
		}
		_, again, err := Decode(out)
		if err != nil || len(again) != len(unknown) {
			t.Fatalf("unknown members went missing: %v, %v, %v", unknown, again, err)
		}
		if err := schema.validate(out); err != nil {
			t.Fatalf("written, but against the schema: %v\n%s", err, out)
		}
	})
}
