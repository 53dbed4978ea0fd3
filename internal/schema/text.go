package schema

// How quantities are written, as regular expressions that mean the same to
// JavaScript, Rust and Go. Package measure reads them.
const (
	number   = `[0-9]+([.,][0-9]+)?`
	mass     = number + `\s*([kK][gG]|[lL][bB])`
	distance = number + `\s*([mM]|[fF][tT]|[yY][dD])`
	clock    = number + `(\s*([sS]|[mM][iI][nN]|[hH])|(:[0-5][0-9]([.,][0-9]+)?){1,2})`
	share    = number + `\s*%`
	factor   = number + `\s*[x×]\s*work`
	layout   = `straight|` + number + `\s*[x×]\s*` + distance
	ask      = mass + `(\s+(each\s+hand|both))?|heaviest|` +
		share + `\s*([mM][aA][xX]|[bB][oO][dD][yY]\s+[mM][aA][sS][sS](\s+[tT][oO][tT][aA][lL])?|1[rR][mM])`
)

// written takes a text of that pattern, spaces around it or none.
func written(pattern string, examples ...string) doc {
	return doc{"type": "string", "pattern": `^\s*(` + pattern + `)\s*$`, "examples": examples}
}

func massText() doc     { return written(mass, "20 kg", "45 lb") }
func distanceText() doc { return written(distance, "20 m", "100 ft", "30 yd") }
func clockText() doc    { return written(clock, "1:30", "30 s", "2 min") }
func shareText() doc    { return written(share, "55%") }

// shownText takes what can be shown: no control character and no mark of
// direction, no space at either end.
func shownText(most int) doc {
	const shown = "([^\\p{Cc}\\p{Cf}\\p{Zl}\\p{Zp}]|[\u200c\u200d])"
	return doc{"type": "string", "minLength": 1, "maxLength": most, "pattern": `^` + shown + `+$`, "not": doc{"pattern": `^\s|\s$`}}
}

// name is of a person, a sled, a surface; line is a title or an address.
func name() doc { return shownText(64) }
func line() doc { return shownText(200) }

// day and hour are TOML's own dates and times, which editors hand on as text.
func day() doc { return doc{"type": "string", "pattern": `^[0-9]{4}-[0-9]{2}-[0-9]{2}$`} }

func hour() doc { return doc{"type": "string", "pattern": `^[0-9]{2}:[0-9]{2}:[0-9]{2}(\.[0-9]+)?$`} }
