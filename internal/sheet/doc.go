// Package sheet reads process sheets: TOML in, a checked Sheet out, with the
// place of everything in it.
//
// It promises that a Sheet exists only for a file without errors, and that
// otherwise every error of the file and of the files it leads to comes back at
// once, by place, in words for a painter. It never panics, never follows a
// path out of the folder it was given, and is done in bounded time on any
// text.
//
// It knows the language of sheets (see Verbs, CardKeys and their like) and
// the names of kinds and limits. It knows nothing of what becomes of a sheet:
// what a painter could do and should not is no error here.
package sheet
