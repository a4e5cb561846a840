package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestDependenciesAreListed: dependencies.md has each module of go.mod, with all there is to say of it.
func TestDependenciesAreListed(t *testing.T) {
	text, err := os.ReadFile("dependencies.md")
	require.NoError(t, err)
	mod, err := os.ReadFile("../../go.mod")
	require.NoError(t, err)
	var want, listed []string
	for _, m := range regexp.MustCompile(`(?m)^\t(\S+) v\S+( // indirect)?$`).FindAllStringSubmatch(string(mod), -1) {
		want = append(want, m[1]+m[2])
	}
	licences := map[string]string{}
	for _, row := range regexp.MustCompile("(?m)^\\| `([^`]+)` \\| (.+) \\|$").FindAllStringSubmatch(string(text), -1) {
		cells := strings.Split(row[2], " | ")
		name := row[1]
		if len(cells) == 2 { // it comes with others
			name += " // indirect"
		} else {
			assert.Len(t, cells, 3, name)
		}
		for _, cell := range cells {
			assert.NotEmpty(t, strings.TrimSpace(cell), name)
		}
		listed = append(listed, name)
		licences[row[1]] = cells[0]
	}
	require.Greater(t, len(want), 60)
	assert.Equal(t, want, listed)
	assertLicences(t, licences)
}

// phrases are what texts of licences say.
//
// Source: the texts at spdx.org/licenses.
var phrases = map[string]string{
	"MIT":          `Permission is hereby granted, free of charge, to any person|(?s)## License\s+MIT`,
	"Apache-2.0":   `Apache License,?\s+Version 2\.0`,
	"BSD-2-Clause": `(?s)Redistribution and use in source and binary forms`,
	"BSD-3-Clause": `(?is)Redistribution and use in source and binary forms.*neither the name`,
	"MPL-2.0":      `Mozilla Public License Version 2\.0`,
	"Unlicense":    `This is free and unencumbered software released into the public domain`,
}

// assertLicences asserts that modules have the licences that are listed, as far as their texts are here.
func assertLicences(t *testing.T, licences map[string]string) {
	t.Helper()
	read := 0
	for module, licence := range licences {
		folder, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", module).Output()
		if err != nil || len(strings.TrimSpace(string(folder))) == 0 {
			continue // not all are needed on each system
		}
		var all strings.Builder
		for _, pattern := range []string{"LICEN[CS]E*", "License*", "UNLICENSE", "README.md"} {
			files, _ := filepath.Glob(filepath.Join(strings.TrimSpace(string(folder)), pattern))
			for _, file := range files {
				text, err := os.ReadFile(file)
				require.NoError(t, err)
				all.Write(text)
			}
		}
		for _, one := range strings.Split(licence, " and ") {
			require.Contains(t, phrases, one, module)
			said := regexp.MustCompile(phrases[one]).MatchString(all.String())
			assert.True(t, said, "%s is not under %s", module, one)
		}
		read++
	}
	assert.Greater(t, read, 20)
}
