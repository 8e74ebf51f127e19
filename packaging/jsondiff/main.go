// Command jsondiff prints where two JSON files differ, one place to a line:
// the JSON Pointer (RFC 6901), the old value and the new one, separated by
// tabs. It ends with status 0 when the files say the same, 1 when they differ
// and 2 when one of them could not be read, as diff does.
package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"reflect"
	"slices"
	"strconv"
	"strings"
)

// absent stands for a member or an element that one of the files lacks.
type absent struct{}

func (absent) MarshalJSON() ([]byte, error) { return []byte(`"(absent)"`), nil }

// change is one place where the files differ.
type change struct {
	pointer  string
	old, new any
}

func main() {
	changes, err := compare(os.Args[1:])
	if err != nil {
		fmt.Fprintln(os.Stderr, "jsondiff:", err)
		os.Exit(2)
	}
	for _, c := range changes {
		fmt.Printf("%s\t%s\t%s\n", c.pointer, compact(c.old), compact(c.new))
	}
	if len(changes) > 0 {
		os.Exit(1)
	}
}

func compare(paths []string) ([]change, error) {
	if len(paths) != 2 {
		return nil, errors.New("wanted two files: jsondiff OLD NEW")
	}
	values := make([]any, len(paths))
	for i, path := range paths {
		data, err := os.ReadFile(path)
		if err != nil {
			return nil, err
		}
		if values[i], err = decode(data); err != nil {
			return nil, fmt.Errorf("%s: %w", path, err)
		}
	}
	return differ(nil, "", values[0], values[1]), nil
}

// decode keeps numbers as they are written, so that "1.0" and "1" differ.
func decode(data []byte) (any, error) {
	decoder := json.NewDecoder(bytes.NewReader(data))
	decoder.UseNumber()
	var value any
	if err := decoder.Decode(&value); err != nil {
		return nil, err
	}
	if _, err := decoder.Token(); !errors.Is(err, io.EOF) {
		return nil, errors.New("something follows the first value")
	}
	return value, nil
}

// differ appends the changes from old to new, which stand at the pointer.
func differ(changes []change, pointer string, old, new any) []change {
	switch o := old.(type) {
	case map[string]any:
		if n, ok := new.(map[string]any); ok {
			return differInMembers(changes, pointer, o, n)
		}
	case []any:
		if n, ok := new.([]any); ok {
			return differInElements(changes, pointer, o, n)
		}
	}
	if !reflect.DeepEqual(old, new) {
		changes = append(changes, change{pointer, old, new})
	}
	return changes
}

func differInMembers(changes []change, pointer string, old, new map[string]any) []change {
	names := maps.Clone(old)
	maps.Copy(names, new)
	for _, name := range slices.Sorted(maps.Keys(names)) {
		changes = differ(changes, pointer+"/"+escape(name), member(old, name), member(new, name))
	}
	return changes
}

func member(of map[string]any, name string) any {
	if value, ok := of[name]; ok {
		return value
	}
	return absent{}
}

func differInElements(changes []change, pointer string, old, new []any) []change {
	for i := range max(len(old), len(new)) {
		changes = differ(changes, pointer+"/"+strconv.Itoa(i), element(old, i), element(new, i))
	}
	return changes
}

func element(of []any, i int) any {
	if i < len(of) {
		return of[i]
	}
	return absent{}
}

func escape(name string) string {
	return strings.NewReplacer("~", "~0", "/", "~1").Replace(name)
}

// compact writes a value on one line as the file spells it.
func compact(value any) string {
	var text bytes.Buffer
	encoder := json.NewEncoder(&text)
	encoder.SetEscapeHTML(false)
	if err := encoder.Encode(value); err != nil {
		panic(err) // everything here came out of a decoder
	}
	return strings.TrimSpace(text.String())
}
