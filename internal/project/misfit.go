package project

import (
	"bytes"
	"errors"
	"io"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

// This file turns the refusals of the JSON packages into texts of our own.

func tooLarge() *Broken {
	return broken("", "project.too_large", map[string]any{"Max": MaxBytes >> 20})
}

// badSyntax tells what is not JSON, and at which line.
func badSyntax(data []byte, err error) *Broken {
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		if len(bytes.TrimSpace(data)) == 0 {
			return broken("", "project.empty", nil)
		}
		return &Broken{ID: "project.cut_short", Values: position(data, len(data)), Cause: err}
	}
	var syntax *jsontext.SyntacticError
	if !errors.As(err, &syntax) {
		return &Broken{ID: "project.syntax", Values: position(data, 0), Cause: err}
	}
	values := position(data, int(syntax.ByteOffset))
	pointer := syntax.JSONPointer
	if errors.Is(err, jsontext.ErrDuplicateName) {
		values["Found"] = clip(pointer.LastToken())
		return &Broken{Pointer: string(pointer), ID: "project.member_twice", Values: values, Cause: err}
	}
	return &Broken{Pointer: string(pointer), ID: "project.syntax", Values: values, Cause: err}
}

// trailing refuses anything but blanks after the document.
func trailing(data []byte, end int) *Broken {
	rest := bytes.TrimLeft(data[end:], " \t\r\n")
	if len(rest) == 0 {
		return nil
	}
	return broken("", "project.trailing", position(data, len(data)-len(rest)))
}

// position names a byte of a file as people find it: line and column, both from
// one, columns counted in characters.
func position(data []byte, offset int) map[string]any {
	offset = min(max(offset, 0), len(data))
	start := bytes.LastIndexByte(data[:offset], '\n') + 1
	return map[string]any{
		"Line":   bytes.Count(data[:offset], []byte("\n")) + 1,
		"Column": len([]rune(string(data[start:offset]))) + 1,
	}
}

// messenger is a refusal that has a text.
type messenger interface {
	error
	Message() (id string, values map[string]any)
}

// wanted is the text for a value of the wrong type, by what is wanted.
var wanted = map[kind]string{
	isObject:   "project.want_object",
	isList:     "project.want_list",
	isText:     "project.want_text",
	isWhole:    "project.want_whole",
	isFlag:     "project.want_flag",
	isQuantity: "project.want_quantity",
	isAmount:   "project.want_amount",
}

// misfit tells why a value does not fit into its place.
func misfit(err error, data []byte) *Broken {
	var semantic *json.SemanticError
	if !errors.As(err, &semantic) {
		return badSyntax(data, err)
	}
	pointer := string(semantic.JSONPointer)
	n := document().find(pointer)
	if n == nil { // nothing known says so, but a file must never stop the program
		return &Broken{Pointer: pointer, ID: "project.syntax", Values: position(data, int(semantic.ByteOffset)), Cause: err}
	}
	found := valueAt(data, int(semantic.ByteOffset))
	var refusal messenger
	if errors.As(semantic.Err, &refusal) {
		values := map[string]any{"Found": clip(string(found)), "Reason": refusal}
		return &Broken{Pointer: pointer, ID: "project.unreadable", Values: values, Cause: refusal}
	}
	values := map[string]any{"Found": clip(string(found))}
	if n.dim != nil {
		values["Accepted"] = n.dim.accepts
	}
	id := wanted[n.kind]
	if n.dim != nil && len(n.dim.accepts) == 1 && n.dim.accepts[0] == "×" {
		id = "project.want_factor"
	}
	return &Broken{Pointer: pointer, ID: id, Values: values, Cause: err}
}

// valueAt returns the value at an offset as it stands in the file.
func valueAt(data []byte, offset int) jsontext.Value {
	dec := jsontext.NewDecoder(bytes.NewReader(data[min(offset, len(data)):]))
	value, err := dec.ReadValue()
	if err != nil {
		return nil
	}
	return value
}
