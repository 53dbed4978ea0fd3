package house

import (
	"bytes"
	"cmp"
	"fmt"
	"strconv"
	"strings"
	"time"

	"hawser/internal/coachfile"
	"hawser/internal/measure"
)

// Parse reads house.toml over the defaults. The error is [coachfile.Faults], all
// of them.
func Parse(name string, data []byte) (*House, error) {
	file, top := coachfile.Read(name, data, coachfile.Limit)
	h := Default()
	h.Path = name
	for _, g := range groups(h) {
		for _, r := range g.rules {
			if top.Has(r.Key) {
				r.read(top)
			}
		}
	}
	if h.UnlikelyLow >= h.UnlikelyHigh && h.UnlikelyHigh > 0 {
		top.Fault("unlikely_low", "unlikely_low is not below unlikely_high", `write unlikely_low = "60%" and unlikely_high = "160%"`)
	}
	if t := top.Table("keys"); t != nil {
		h.readKeys(t)
	}
	if err := file.Err(); err != nil {
		return nil, err
	}
	return h, nil
}

// read sets the field from the table.
func (r Rule) read(t *coachfile.Table) {
	switch field := r.Field.(type) {
	case *time.Duration:
		*field = coachfile.Get(t, r.Key, measure.ParseClock)
	case *measure.Share:
		*field = coachfile.Get(t, r.Key, coachfile.Some(measure.ParseShare))
	case *measure.Distance:
		*field = coachfile.Get(t, r.Key, coachfile.Some(measure.ParseDistance))
	case *string:
		if r.Words == nil {
			*field = coachfile.Get(t, r.Key, coachfile.Line)
		} else {
			*field = coachfile.Get(t, r.Key, coachfile.OneOf(r.Words...))
		}
	case *int:
		*field = t.Int(r.Key, 0, 1000)
	case *bool:
		*field = t.Flag(r.Key)
	}
}

// Value returns the field as TOML, "" where it is not set and has no default.
func (r Rule) Value() string {
	switch field := r.Field.(type) {
	case *time.Duration:
		return coachfile.Quote(measure.Notation(*field))
	case *measure.Share:
		return coachfile.Quote(field.String())
	case *measure.Distance:
		if *field > 0 {
			return coachfile.Quote(field.String())
		}
	case *string:
		if *field != "" {
			return coachfile.Quote(*field)
		}
	case *int:
		return strconv.Itoa(*field)
	case *bool:
		return strconv.FormatBool(*field)
	}
	return ""
}

// Write writes a fresh house.toml: every rule with its value and what it is for,
// those without a value behind a "#".
func Write(h *House) []byte {
	var b bytes.Buffer
	b.WriteString("# House rules: every number that is a habit of this house and not a rule of the\n" +
		"# trade. A key that is left away has the value it has in a fresh file.\n")
	for _, g := range groups(h) {
		fmt.Fprintf(&b, "\n# %s\n", g.heading)
		for _, r := range g.rules {
			about := r.About
			if r.Words != nil {
				about += ": " + strings.Join(r.Words, " | ")
			}
			line := r.Key + " = " + r.Value()
			if r.Value() == "" {
				line = "#" + r.Key + " = " + `"…"`
			}
			fmt.Fprintf(&b, "%-36s # %s\n", line, about)
		}
	}
	b.WriteString("\n# other keys than the usual ones: take the # away and write a sign or a name, \"f2\",\n" +
		"# \"insert\", \"ctrl+k\"; help and bottom line then show yours. Letters and digits stay presses.\n[keys]\n")
	for _, a := range Actions() {
		name, off := a.Name, "#"
		if _, ok := h.Keys[name]; ok {
			off = ""
		}
		fmt.Fprintf(&b, "%-36s # %s\n", off+name+" = "+coachfile.Quote(h.keyOf(&a)), a.Does)
	}
	return b.Bytes()
}

// Style is how this house shows quantities.
func (h *House) Style() measure.Style {
	return measure.Style{
		MassUnit:     cmp.Or(h.Show, "kg"),
		DistanceUnit: cmp.Or(h.ShowDistance, "m"),
		Decimal:      cmp.Or(h.Decimal, "."),
	}
}
