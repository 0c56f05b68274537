package live

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// What is told to the script is JSON, written here: encoding/json would be a tenth of the
// whole engine.

// JSON is how the script reads it.
func (s Seen) JSON() string {
	return object(
		member("sentence", text(s.Sentence)), member("meeting", text(s.Meeting)),
		member("moves", strconv.FormatBool(s.Moves)), member("right", strconv.FormatBool(s.Right)))
}

// JSON is how the script reads it.
func (c Control) JSON() string {
	value := ""
	switch v := c.Value.(type) {
	case string:
		value = text(v)
	case float64:
		value = number(v)
	}
	return object(
		member("key", text(c.Key)), member("label", text(c.Label)), member("value", value),
		member("text", text(c.Text)), member("more", strconv.FormatBool(c.More)),
		member("choices", list(c.Choices, func(o Choice) string {
			return object(member("value", text(o.Value)), member("text", text(o.Text)))
		})),
		member("min", number(c.Min)), member("max", number(c.Max)), member("step", number(c.Step)),
		member("left", text(c.Left)), member("right", text(c.Right)), member("falls", strconv.FormatBool(c.Falls)))
}

// ControlsJSON is how the script reads controls.
func ControlsJSON(all []Control) string { return list(all, Control.JSON) }

// JSON is how the script reads it.
func (p Practice) JSON() string {
	return object(
		member("steps", list(p.Steps, func(s Step) string {
			return object(
				member("title", text(s.Title)), member("says", text(s.Says)), member("right", strconv.FormatBool(s.Right)), member("away", strconv.FormatBool(s.Away)),
				member("at", number(s.At)), member("move", number(s.Move)), member("hold", number(s.Hold)))
		})),
		member("questions", list(p.Questions, text)))
}

// OthersJSON is how the script reads other answers.
func OthersJSON(all []Other) string {
	return list(all, func(o Other) string {
		return object(
			member("heard", text(o.Heard)), member("sees", text(o.Sees)), member("means", text(o.Means)),
			member("tries", list(o.Tries, text)), member("stop", text(o.Stop)), member("back", strconv.FormatBool(o.Back)))
	})
}

// ErrorJSON is how the script reads what is wrong, or that nothing is.
func ErrorJSON(err error) string {
	if err == nil {
		return object()
	}
	return object(member("error", text(err.Error())))
}

func object(members ...string) string  { return "{" + strings.Join(members, ",") + "}" }
func member(name, value string) string { return text(name) + ":" + value }
func number(x float64) string          { return strconv.FormatFloat(x, 'g', -1, 64) }

func list[T any](items []T, write func(T) string) string {
	all := make([]string, len(items))
	for i, item := range items {
		all[i] = write(item)
	}
	return "[" + strings.Join(all, ",") + "]"
}

// text is a string of JSON.
func text(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range strings.ToValidUTF8(s, string(utf8.RuneError)) {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r < ' ':
			b.WriteString(`\u00`)
			b.WriteString(strconv.FormatInt(0x100+int64(r), 16)[1:])
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
