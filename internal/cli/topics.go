package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"hawser/internal/house"
	"hawser/internal/movement"
	"hawser/internal/tui"
)

// topics are pages of help that are not commands: hawser help keys. They stand in
// the words of the root and not in its list of commands.
func (s *shell) topics() []*cobra.Command {
	pages := []struct {
		name, short string
		text        func() string
	}{
		{"keys", "the keys of a run", s.keysPage},
		{"files", "the home folder and what stands in it", func() string { return filesPage }},
		{"movements", "each movement: what it tires, what it stands in for, its cautions", movementsPage},
		{"exit", "what the exit statuses mean", func() string { return exitPage }},
		{"screen readers", "line mode: one plain line for everything that happens", func() string { return readersPage }},
	}
	var list []*cobra.Command
	for _, p := range pages {
		topic := &cobra.Command{Use: p.name, Short: p.short, Hidden: true}
		topic.SetHelpFunc(func(cmd *cobra.Command, _ []string) {
			fmt.Fprintln(cmd.OutOrStdout(), strings.TrimSpace(p.text()))
		})
		list = append(list, topic)
	}
	return list
}

// keysPage lists the keys as the home's house.toml binds them.
func (s *shell) keysPage() string {
	rules := house.Default()
	if h, err := s.quietly().open(""); err == nil {
		rules = h.house
	}
	var page strings.Builder
	page.WriteString("In a run the letters and digits are presses, and nothing else:\n\n")
	for _, key := range tui.KeyList(rules) {
		fmt.Fprintf(&page, "%-10s %s\n", key.Key, key.Does)
	}
	page.WriteString(keysRest)
	return page.String()
}

const keysRest = `
Somebody alone may press Enter too. Only in the changes of a tile do digits and
":" type a choice or a time. A second press within 2 s is ignored with a blink;
a held key is one press. The [keys] table of house.toml binds a key elsewhere,
never to a letter or a digit:

[keys]
hold = "f2"
`

const filesPage = `
A home is a folder with a roster.toml. Hawser looks for it in --home, then in
$HAWSER_HOME, then in $XDG_DATA_HOME/hawser (~/.local/share/hawser; on macOS too).
Without one a made-up class serves, so that every command can be tried.

roster.toml        who trains here: names, letters, body mass, bests
kit.toml           the strip, sleds, bars, handles, ropes and the pile of plates
house.toml         the habits of this house; hawser init writes each with its value
week.toml          which day has which lifts
next.toml          what was accepted for next time; a home writes its own
sessions/*.toml    what a class does
log/YYYY/*.jsonl   one file a run, a line an event, only ever added to
                   (*.private.jsonl beside it: effort, pain, notes; never shared)

The folder is made 0700 and the files 0600. Body masses and maxes stand in
roster.toml and nowhere else. Nothing leaves this machine.

A wrong file is named with line and column, what is wrong and what to write:
hawser check roster.toml

Editors that know JSON Schema for TOML complete the keys: hawser init writes the
schemas into .schemas and names them in the first line of each file, and
hawser schema kit prints one.
`

// movementsPage is the card of each movement.
func movementsPage() string {
	var p page
	for _, m := range movement.All() {
		p.line("%s (%s; needs: %s)", strings.ToUpper(m.Name), m.Pattern, m.Need)
		p.wrapped("  ", "tires "+strings.Join(m.Tires, ", "))
		p.wrapped("  ", "can stand in for "+strings.Join(m.StandsIn, "; "))
		for _, caution := range m.Cautions {
			p.wrapped("  ", sentence(caution))
		}
		p.line("")
	}
	for _, caution := range movement.General() {
		p.wrapped("", sentence(caution))
	}
	return p.String()
}

const exitPage = `
0     done
1     a finding that stops; the page was printed all the same
2     the command line asks for something that does not exist
3     a file is wrong, or cannot be read or written
4     there is no log to read
5     another program runs a class from this home
130   interrupted
`

const soundPage = `Plays every cue by name, once, and says from how many metres the wall's digits can
be read on this screen: 20 minutes of arc are read with ease, 16 are the limit.

--beats shows three flashes to three beats, and the arrows bring them together: so
much later is your loudspeaker heard than its device says, as wireless ones are. Enter
keeps it for this machine, and a class plays its cues so much earlier.

Without a sound device a class runs all the same: the screen says so, and the wall
carries the starts. run --quiet asks for no sound at all. Your own NAME.wav in the
home's sounds folder takes the place of the cue of that name.`

const readersPage = `
--plain, or a terminal that says it is "dumb", gives line mode: one plain line for
every event and every boundary, nothing redrawn, no colour. Type a key and Enter for
a press, or a verb as in a presses file: go, hold, resume, undo, load Maren +5 kg.

hawser run slack-water --plain
`
