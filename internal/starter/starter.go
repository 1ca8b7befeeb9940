// Package starter makes what a shop begins with: a house file, a shelf, a first
// sheet that passes, and JSON Schemas that let a TOML editor check and complete
// all three. The schemas are made from the tables that the program itself reads
// by, so that what they say is what it says.
//
// It promises that the same program makes the same bytes, and that nothing is
// ever overwritten: a folder gets all the files or none. It must not know how a
// sheet is judged.
package starter

import (
	"embed"
	"fmt"

	"guidecoat/internal/sheet"
	"guidecoat/policies"
)

// File is one file of a starter.
type File struct {
	Name  string
	Text  []byte
	About string // what it is, in a few words
}

//go:embed files/*.toml
var own embed.FS

// Schemas are the JSON Schemas (draft 7) of a sheet, a shelf and a house file.
func Schemas() ([]File, error) {
	rules, err := sheet.RulesIn(policies.Files)
	if err != nil {
		return nil, fmt.Errorf("reading the names of the rules: %w", err)
	}
	var files []File
	for _, s := range []struct {
		name, about string
		make        func() ([]byte, error)
	}{
		{"sheet.schema.json", "what a sheet may say, for editors", func() ([]byte, error) { return sheetSchema(rules) }},
		{"shelf.schema.json", "what a shelf may say, for editors", shelfSchema},
		{"house.schema.json", "what a house file may say, for editors", func() ([]byte, error) { return houseSchema(rules) }},
	} {
		text, err := s.make()
		if err != nil {
			return nil, fmt.Errorf("making %s: %w", s.name, err)
		}
		files = append(files, File{Name: s.name, Text: text, About: s.about})
	}
	return files, nil
}

// Files are all the files of a starter: the shop's three, then the schemas.
func Files() ([]File, error) {
	var files []File
	for _, f := range []struct{ name, about string }{
		{sheet.HouseFile, "the house file: what holds for every sheet"},
		{"shelf.toml", "the shelf: a card for each product"},
		{"first-sheet.toml", "a first sheet, which passes"},
	} {
		text, err := own.ReadFile("files/" + f.name)
		if err != nil {
			return nil, fmt.Errorf("reading %s: %w", f.name, err)
		}
		files = append(files, File{Name: f.name, Text: text, About: f.about})
	}
	schemas, err := Schemas()
	return append(files, schemas...), err
}
