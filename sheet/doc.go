// Package sheet reads coaches' own tables, CSV and XLSX with their own headings,
// units and dates, into the domain's values, and writes such tables. It also
// reads and writes profiles, in YAML or JSON, and training programmes, as plain text
// or as tables.
//
// Reading goes in three steps, so that a person can look at each:
//
//	t, err := sheet.Open("log.csv", file, sheet.Options{})      // bytes to a table
//	m, err := sheet.Guess(t, sheet.Days, sheet.Hint{})          // headings to fields
//	for _, q := range m.Questions { err = m.Answer(q.ID, ...) } // what cannot be told
//	log, err := sheet.ReadLog(t, m)                             // rows to days, sets, ...
//
// A guess carries its confidence and its reason. What cannot be told from the
// file (the order of day and month when no day is above 12, a unit that nothing
// states) is never guessed: it is a Question, and reading is refused until it is
// answered. Words:
//
//   - table: one sheet's headings and rows, as text;
//   - mapping: which column is which field, in which unit, how dates and numbers
//     are written;
//   - signature: a hash of the headings, to remember a mapping by.
//
// Text is decoded from UTF-8, UTF-16 or a Windows or Macintosh code page; CSV is
// RFC 4180 with the separators in use (comma, semicolon, tab, bar), XLSX is
// ECMA-376. Nothing in a file is executed: a formula cell gives its stored value.
package sheet
