package routine

import (
	"regexp"
	"sync"
)

// pattern is a regular expression that is compiled when it is first used. A run of the program needs a few of
// many, and compiling them all took a tenth of each start.
type pattern struct{ compiled func() *regexp.Regexp }

func lazily(text string) *pattern {
	return &pattern{sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })}
}

// The methods are those of regexp.Regexp.

func (p *pattern) Match(b []byte) bool { return p.compiled().Match(b) }

func (p *pattern) MatchString(s string) bool { return p.compiled().MatchString(s) }

func (p *pattern) FindString(s string) string { return p.compiled().FindString(s) }

func (p *pattern) FindStringIndex(s string) []int { return p.compiled().FindStringIndex(s) }

func (p *pattern) FindStringSubmatch(s string) []string { return p.compiled().FindStringSubmatch(s) }

func (p *pattern) FindStringSubmatchIndex(s string) []int {
	return p.compiled().FindStringSubmatchIndex(s)
}

func (p *pattern) FindAllStringIndex(s string, n int) [][]int {
	return p.compiled().FindAllStringIndex(s, n)
}

func (p *pattern) FindAllString(s string, n int) []string { return p.compiled().FindAllString(s, n) }

func (p *pattern) ReplaceAllString(s, by string) string { return p.compiled().ReplaceAllString(s, by) }

func (p *pattern) FindSubmatchIndex(b []byte) []int { return p.compiled().FindSubmatchIndex(b) }

func (p *pattern) FindAll(b []byte, n int) [][]byte { return p.compiled().FindAll(b, n) }
