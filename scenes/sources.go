package scenes

import (
	"regexp"
	"slices"
	"strings"
)

// sources say in words where the published rows are from that stand behind keys, for
// those who have not got the table of them.
var sources = map[string]string{
	"A1":  "orthoptic textbooks",
	"B4":  "Watson & Yellott 2012",
	"C1":  "Morgan 1944",
	"C2":  "Morgan 1944",
	"C3":  "Morgan 1944",
	"C4":  "Morgan 1944",
	"C5":  "Morgan 1944",
	"C6":  "Morgan 1944",
	"C7":  "Morgan 1944",
	"C10": "Scheiman et al. 2003",
	"C11": "Maples & Hoenes 2007",
	"C16": "standard orthoptic formula",
	"C17": "MRCOphth mock stations",
	"C18": "Hofstetter 1950",
	"C20": "Ogle & Prangen 1953",
	"C21": "Toor et al. 2018",
	"C23": "MRCOphth mock station",
	"D9":  "textbooks of strabismus",
	"D10": "textbooks of strabismus",
	"E5":  "Riddell, Hainline & Abramov 1994",
	"E11": "Gullstrand / Le Grand schematic eyes",
	"E12": "Ophthalmic Physiol Opt 2022",
	"E13": "J Refract Surg 2010",
	"F1":  "Qin, Takamatsu & Nakashima 2006",
	"F2":  "Qin et al. 2006",
	"F9":  "Duwaer 1982",
	"F11": "Ogle 1950; Mitchell 1966",
	"G3":  "WCAG 2.3.1",
	"G5":  "Okabe & Ito 2002",
	"I1":  "Dodgson 2004",
	"I3":  "ANSUR II public data file",
	"I4":  "ANSUR II public data file",
	"I5":  "Fledelius & Stubgaard 1986",
	"N3":  "US Army headboard survey 1988",
	"N6":  "US Army headboard survey 1988",
	"P1":  "Prentice 1890",
	"P3":  "Carlton, Optician",
	"S4":  "Joosse et al. 1997",
	"S9":  "Joosse et al. 1999",
	"S10": "reference pages on monofixation",
	"X2":  "Jaschinski 2017",
	"X3":  "UMSL course notes (Garzia)",
	"Y1":  "Pobuda & Erkelens 1993",
	"Y4":  "Stevenson, Sheehy & Roorda 2016",
	"Y7":  "Rashbass & Westheimer 1961",
}

// rowIDs are the ids of rows in a text. The pattern is compiled here, so that a program
// that writes no schema, such as the engine of pages, holds no regular expressions.
func rowIDs(rows string) []string {
	return regexp.MustCompile(`[A-Z]\d+`).FindAllString(rows, -1)
}

// sourceWords are the sources of rows, each once.
func sourceWords(rows string) string {
	var all []string
	for _, id := range rowIDs(rows) {
		if words := sources[id]; !slices.Contains(all, words) {
			all = append(all, words)
		}
	}
	return strings.Join(all, "; ")
}
