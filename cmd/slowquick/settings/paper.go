package settings

import (
	"os"
	"slices"
	"strings"
)

// letterCountries print on letter paper.
//
// Source: LC_PAPER of the GNU C Library's locales, 2.36, which say 279 mm; and for Belize, of which it has none,
// the Unicode CLDR, 46, supplemental data on paper sizes.
var letterCountries = []string{"BO", "BZ", "CA", "CL", "CO", "CR", "GT", "MX", "NI", "PA", "PH", "PR", "SV", "US", "VE"}

// paperOfLocale returns the paper of the system's locale, and the variable that tells it; "" if none does.
//
// Source: POSIX.1-2017, 8.2, Internationalization Variables: LC_ALL goes before a category, and LANG is for those
// that are not set. LC_PAPER is a category of the GNU C Library.
func paperOfLocale() (paper, variable string) {
	for _, variable := range []string{"LC_ALL", "LC_PAPER", "LANG"} {
		locale := os.Getenv(variable)
		if locale == "" {
			continue
		}
		locale, _, _ = strings.Cut(locale, ".")
		locale, _, _ = strings.Cut(locale, "@")
		if _, country, ok := strings.Cut(locale, "_"); ok {
			if slices.Contains(letterCountries, country) {
				return "letter", variable
			}
			return "a4", variable
		}
		return "", "" // C and POSIX tell no country
	}
	return "", ""
}
