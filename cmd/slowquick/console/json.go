package console

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"

	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/player/harmless"
)

func (c *Console) PrintJSON(v any) error {
	var text bytes.Buffer
	enc := json.NewEncoder(&text)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	err := enc.Encode(v)
	if err == nil {
		_, err = c.Out.Raw.Write(harmless.JSON(text.Bytes()))
	}
	if err != nil {
		return outcome.Failed(fmt.Errorf("print: %w", err), "")
	}
	return nil
}

// PrintSchema prints the JSON Schema of a command's --json.
func (c *Console) PrintSchema(schema []byte, args []string) error {
	if len(args) > 0 {
		return outcome.Usage(errors.New("leave all else out with --schema"))
	}
	_, err := c.Out.Write(schema)
	return outcome.Failed(err, "")
}
