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
	enc.SetIndent("", "  ")
	err := enc.Encode(v)
	if err == nil {
		_, err = out.Write(coachfile.EscapeJSON(doc.Bytes()))
	}
	if err != nil {
		return fmt.Errorf("write the answer: %w", err)
	}
	return nil
}
