package routine

import (
	"errors"
	"fmt"
	"time"
)

// Lesson says for whom a sheet is, which stands at the foot of its handouts. What isn't said is "".
type Lesson struct {
	Teacher, Class string
	Date           string // as 2026-09-04
}

// longestLesson bounds the name of a teacher or a class, in letters.
const longestLesson = 80

// lesson reads the settings that say for whom the sheet is.
func (p *parser) lesson(settings map[string]setting) {
	to := &p.sheet.Lesson
	set(p, settings["teacher"], &to.Teacher, "write a name on one line", lessonName)
	set(p, settings["class"], &to.Class, "write a name on one line: class: Lantern Night, beginners", lessonName)
	set(p, settings["date"], &to.Date, "write year, month and day: 2026-09-04", func(text string) (string, error) {
		if _, err := time.Parse(time.DateOnly, text); err != nil {
			return "", errors.New("is not a date")
		}
		return text, nil
	})
}

func lessonName(text string) (string, error) {
	name := headingText(text)
	switch {
	case name == "":
		return "", errors.New("is not a name")
	case len([]rune(name)) > longestLesson:
		return "", fmt.Errorf("is longer than %d letters", longestLesson)
	}
	return name, nil
}
