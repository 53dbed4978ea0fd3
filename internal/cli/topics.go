package cli

import (
	"strings"

	"github.com/spf13/cobra"
)

// topics are pages of help that are not commands: hawser help keys. They stand in
// the words of the root and not in its list of commands.
func topics() []*cobra.Command {
	pages := []struct{ name, short, text string }{
		{"keys", "the keys of a run", keysPage},
		{"files", "the home folder and what stands in it", filesPage},
		{"exit", "what the exit statuses mean", exitPage},
		{"readers", "line mode: one plain line for everything that happens", readersPage},
	}
	var list []*cobra.Command
	for _, p := range pages {
		list = append(list, &cobra.Command{Use: p.name, Short: p.short, Long: strings.TrimSpace(p.text), Hidden: true})
	}
	return list
}

const keysPage = `
In a run the letters and digits are presses, and nothing else:

a … z          the person with that letter beside the name: done with this round
               (sets and ramp: start, then done)
A … Z          a leg done, in a long pull
1 … 9          the k-th sled of kit.toml: whoever is on it
Enter          alone in a class: the press; else: the changes of the chosen tile
Space          stop the clock, and start it again after a 5 s count-in
Backspace      undo, and say whose and what
Arrows         choose a tile
Tab            the wall, the desk, or both
?              the keys of the screen you are on, beside the running clock
Ctrl-C twice   leave; the class is kept and offered back

Only in the changes of a tile do digits and ":" type a choice or a time.
A second press within 2 s is ignored with a blink. A held key is one press.
The [keys] table of house.toml moves the coach's keys elsewhere.
`

const filesPage = `
A home is a folder with a roster.toml. Hawser looks for it in --home, then in
$HAWSER_HOME, then in $XDG_DATA_HOME/hawser (~/.local/share/hawser; on macOS too).
Without one a made-up class serves, so that every command can be tried.

roster.toml        who trains here: names, letters, body mass, bests
kit.toml           the strip, sleds, bars, handles, ropes and the pile of plates
house.toml         the habits of this house; hawser init writes each with its value
week.toml          which day has which lifts
sessions/*.toml    what a class does
log/YYYY/*.jsonl   one file a run, a line an event, only ever added to
                   (*.private.jsonl beside it: effort, pain, notes; never shared)

The folder is made 0700 and the files 0600. Body masses and maxes stand in
roster.toml and nowhere else. Nothing leaves this machine.

A wrong file is named with line and column, what is wrong and what to write:
hawser check roster.toml
`

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

Without a sound device a class runs all the same: the screen says so, and the wall
carries the starts. run --quiet asks for no sound at all. Your own NAME.wav in the
home's sounds folder takes the place of the cue of that name.`

const readersPage = `
--plain, a pipe or a terminal that says it is "dumb" gives line mode: one plain line
for every event and every boundary, nothing redrawn, no colour. It takes the same
keys as the screen: letters and digits are presses.

hawser run slack-water --plain
hawser watch --plain          the same lines on a second machine's terminal
`
