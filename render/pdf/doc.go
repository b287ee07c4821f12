// Package pdf writes sheets as the pages of one PDF file.
//
// Pages have their exact size, text stays text in embedded fonts, lines stay
// lines, and layers can be switched off in a reader. The same sheets and date
// give the same bytes. Nothing stops a printer from scaling: print a bar of
// known length on the sheet. The file claims no archival conformance.
package pdf
