package cli

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"time"

	"hawser/internal/coachfile"
	"hawser/internal/measure"
)

// number is a float as our JSON writes it: six decimals at most.
type number float64

// MarshalJSON writes n without an exponent.
func (n number) MarshalJSON() ([]byte, error) {
	return strconv.AppendFloat(nil, measure.Round6(float64(n)), 'f', -1, 64), nil
}

func seconds(d time.Duration) number { return number(d.Seconds()) }

func kilograms(m measure.Mass) number { return number(m.KG()) }

func metres(d measure.Distance) number { return number(d.Metres()) }

// printJSON writes v as one indented document of plain text.
func printJSON(out io.Writer, v any) error {
	var doc bytes.Buffer
	enc := json.NewEncoder(&doc)
	enc.SetEscapeHTML(false)
	err := enc.Encode(v)
	if err == nil {
		err = writeIndented(out, coachfile.EscapeJSON(doc.Bytes()))
	}
	if err != nil {
		return fmt.Errorf("write the answer: %w", err)
	}
	return nil
}

// writeIndented writes a document that an encoder made with each value on a line, as
// [json.Indent] would. That one checks every byte anew and holds the whole page, of which
// two thirds are blanks.
func writeIndented(out io.Writer, doc []byte) error {
	const full = 1 << 15
	page, depth := make([]byte, 0, 2*full), 0
	line := func() {
		page = append(page, '\n')
		for range depth {
			page = append(page, "  "...)
		}
	}
	for i := 0; i < len(doc); i++ {
		if len(page) >= full {
			if _, err := out.Write(page); err != nil {
				return err //nolint:wrapcheck // the caller says what was written
			}
			page = page[:0]
		}
		switch c := doc[i]; c {
		case '"':
			end := i + 1
			for ; doc[end] != '"'; end++ {
				if doc[end] == '\\' {
					end++
				}
			}
			page = append(page, doc[i:end+1]...)
			i = end
		case '{', '[':
			page = append(page, c)
			if next := doc[i+1]; next == '}' || next == ']' {
				page = append(page, next)
				i++
				continue
			}
			depth++
			line()
		case '}', ']':
			depth--
			line()
			page = append(page, c)
		case ',':
			page = append(page, c)
			line()
		case ':':
			page = append(page, ": "...)
		default:
			page = append(page, c)
		}
	}
	_, err := out.Write(page)
	return err //nolint:wrapcheck // as above
}
