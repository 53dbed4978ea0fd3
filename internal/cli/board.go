package cli

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"hawser/internal/floor"
	"hawser/internal/lanes"
	"hawser/internal/session"
)

func (s *shell) boardCommand() *cobra.Command {
	var who []string
	var asJSON, public bool
	cmd := &cobra.Command{
		Use:   "board SESSION",
		Short: "Who pulls where, when, with which plates, and whether it fits",
		Long: "The board of a session: does the schedule fit these sleds, what each way out costs,\n" +
			"and the plates beside every name, on one page of plain text.",
		Example: "hawser board slack-water\nhawser board slack-water --who Maren,Eskil\nhawser board slack-water --public",
		Args:    one("SESSION"),
		RunE: func(cmd *cobra.Command, args []string) error {
			plan, err := s.plan(args[0], who)
			if err != nil {
				return err
			}
			if asJSON {
				err = printJSON(cmd.OutOrStdout(), newBoardJSON(plan.board, plan.kit.Plates))
			} else {
				_, err = io.WriteString(cmd.OutOrStdout(), plan.page(public))
			}
			if err != nil {
				return fmt.Errorf("print the board: %w", err)
			}
			return stopped(plan.board.Findings)
		},
	}
	s.whoFlag(cmd, &who)
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the board as JSON")
	cmd.Flags().BoolVar(&public, "public", false, "leave out body mass, maxes and percentages")
	s.completeSessions(cmd)
	return cmd
}

// planned is a session planned for the people of a day.
type planned struct {
	*home
	session *session.Session
	board   *lanes.Board
	who     []string // who is here; all where nobody was named
}

// plan opens the home and makes the board of one session.
func (s *shell) plan(arg string, who []string) (*planned, error) {
	h, err := s.open(arg)
	if err != nil {
		return nil, err
	}
	return h.plan(arg, who)
}

// plan makes the board of one session of the home.
func (h *home) plan(arg string, who []string) (*planned, error) {
	p := &planned{home: h}
	var err error
	if p.session, err = h.session(arg); err != nil {
		return nil, err
	}
	if p.who, err = h.present(who); err != nil {
		return nil, err
	}
	p.board = lanes.Make(lanes.Input{Session: p.session, Kit: h.kit, Roster: h.roster, House: h.house, Here: p.who, Past: h.past(), Accepted: h.standing()})
	return p, nil
}

// present checks the names of --who and returns them in the roster's order; nil
// where nobody was named, which means all.
func (h *home) present(who []string) ([]string, error) {
	if len(who) == 0 {
		return nil, nil
	}
	var all, here []string
	for i := range h.roster.Athletes {
		name := h.roster.Athletes[i].Name
		all = append(all, name)
		if slices.Contains(who, name) {
			here = append(here, name)
		}
	}
	for _, name := range who {
		if !slices.Contains(all, name) {
			return nil, usage(fmt.Errorf("nobody in the roster is called %q; there are %s", shown(name), shown(strings.Join(all, ", "))))
		}
	}
	return here, nil
}

func (p *planned) page(public bool) string {
	b := boardPage{
		board: p.board, roster: p.roster, pile: p.kit.Plates, public: public,
		style: p.house.Style(),
	}
	return b.String()
}

// stopped is exit status 1 where a finding stops the class; the page has said why.
func stopped(findings []session.Finding) error {
	if slices.ContainsFunc(findings, func(f session.Finding) bool { return f.Level == session.Stop }) {
		return &exit{Findings, nil}
	}
	return nil
}

// floorPlan is the board as the engine runs it.
func (p *planned) floorPlan() *floor.Plan {
	return floor.MakePlan(p.board, p.roster, p.kit, p.house, p.who)
}
