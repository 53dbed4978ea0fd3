package main

import (
	"fmt"
	"go/ast"
	"go/format"
	"go/token"
	"go/types"
	"path/filepath"
	"strconv"
	"strings"
)

// others is what each operator becomes: its boundary, then its sense.
var others = map[token.Token][]token.Token{
	token.LSS: {token.LEQ, token.GEQ}, token.LEQ: {token.LSS, token.GTR},
	token.GTR: {token.GEQ, token.LEQ}, token.GEQ: {token.GTR, token.LSS},
	token.EQL: {token.NEQ}, token.NEQ: {token.EQL},
	token.LAND: {token.LOR}, token.LOR: {token.LAND},
	token.ADD: {token.SUB}, token.SUB: {token.ADD},
	token.MUL: {token.ADD}, token.QUO: {token.MUL}, token.REM: {token.MUL},
	token.INC: {token.DEC}, token.DEC: {token.INC},
	token.ADD_ASSIGN: {token.SUB_ASSIGN}, token.SUB_ASSIGN: {token.ADD_ASSIGN},
}

// mutant is one small fault: where it stands, and in words that outlive a change of the
// lines around it.
type mutant struct {
	at             token.Position
	function, what string
}

func (m mutant) String() string {
	return fmt.Sprintf("%s %s: %s", filepath.Base(m.at.Filename), m.function, m.what)
}

// mutant notes one more and returns its number.
func (p *pack) mutant(at token.Pos, what string) int {
	p.mutants = append(p.mutants, mutant{at: p.set.Position(at), function: p.function, what: what})
	return len(p.mutants)
}

// text is a piece of the code on one line, as it is before it has mutants in it.
func (p *pack) text(node any) string {
	var b strings.Builder
	if err := format.Node(&b, p.set, node); err != nil {
		return err.Error()
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// block puts mutants into statements; each that can be left out gets one for that.
func (p *pack) block(list []ast.Stmt) {
	for i, s := range list {
		whole := p.text(s)
		p.statement(s)
		switch s := s.(type) {
		case *ast.ExprStmt:
			if call, ok := s.X.(*ast.CallExpr); ok && !isPanic(call) {
				list[i] = p.leftOut(s, whole)
			}
		case *ast.AssignStmt:
			if s.Tok == token.DEFINE || isBlank(s) {
				continue
			}
			list[i] = p.leftOut(s, whole)
			if to, ok := others[s.Tok]; ok && p.counts(s.Lhs[0]) {
				other := *s
				other.Tok = to[0]
				list[i] = p.instead(s, list[i], &other, whole+" with "+to[0].String())
			}
		case *ast.IncDecStmt:
			other := *s
			other.Tok = others[s.Tok][0]
			list[i] = p.instead(s, s, &other, whole+" with "+other.Tok.String())
		}
	}
}

func isPanic(c *ast.CallExpr) bool {
	name, ok := c.Fun.(*ast.Ident)
	return ok && name.Name == "panic"
}

func isBlank(s *ast.AssignStmt) bool {
	name, ok := s.Lhs[0].(*ast.Ident)
	return ok && name.Name == "_"
}

// leftOut is a statement that is not done while its mutant is awake.
func (p *pack) leftOut(s ast.Stmt, whole string) ast.Stmt {
	n := p.mutant(s.Pos(), "without "+whole)
	return &ast.IfStmt{Cond: &ast.UnaryExpr{Op: token.NOT, X: is(n)}, Body: &ast.BlockStmt{List: []ast.Stmt{s}}}
}

// instead is another statement while its mutant is awake.
func (p *pack) instead(at, s, other ast.Stmt, what string) ast.Stmt {
	n := p.mutant(at.Pos(), what)
	return &ast.IfStmt{
		Cond: is(n),
		Body: &ast.BlockStmt{List: []ast.Stmt{other}}, Else: &ast.BlockStmt{List: []ast.Stmt{s}},
	}
}

// statement puts mutants into the parts of one statement.
func (p *pack) statement(s ast.Stmt) {
	switch s := s.(type) {
	case nil:
	case *ast.BlockStmt:
		p.block(s.List)
	case *ast.IfStmt:
		p.statement(s.Init)
		s.Cond = p.condition(s.Cond)
		p.statement(s.Body)
		p.statement(s.Else)
	case *ast.ForStmt:
		p.statement(s.Init)
		if s.Cond != nil {
			s.Cond = p.condition(s.Cond)
		}
		p.statement(s.Body)
	case *ast.RangeStmt:
		s.X = p.value(s.X)
		p.statement(s.Body)
	case *ast.SwitchStmt:
		p.statement(s.Init)
		if s.Tag != nil {
			s.Tag = p.value(s.Tag)
		}
		p.cases(s.Body, s.Tag == nil)
	case *ast.TypeSwitchStmt:
		p.statement(s.Init)
		p.cases(s.Body, false)
	case *ast.LabeledStmt:
		p.statement(s.Stmt)
	case *ast.ReturnStmt:
		p.values(s.Results)
	case *ast.ExprStmt:
		s.X = p.value(s.X)
	case *ast.AssignStmt:
		p.values(s.Rhs)
	case *ast.DeferStmt:
		p.values(s.Call.Args)
	case *ast.DeclStmt, *ast.BranchStmt, *ast.IncDecStmt, *ast.GoStmt, *ast.SendStmt, *ast.SelectStmt, *ast.EmptyStmt:
	}
}

// cases puts mutants into the cases of a switch; without a tag they are conditions.
func (p *pack) cases(body *ast.BlockStmt, conditions bool) {
	for _, s := range body.List {
		c, ok := s.(*ast.CaseClause)
		if !ok {
			continue
		}
		for i := range c.List {
			if conditions {
				c.List[i] = p.condition(c.List[i])
			}
		}
		p.block(c.Body)
	}
}

// condition is a truth that something is decided by: one that is no comparison
// gets a mutant that turns it round.
func (p *pack) condition(e ast.Expr) ast.Expr {
	_, compares := unparen(e).(*ast.BinaryExpr)
	was := p.text(e)
	whole := p.value(e)
	if compares || p.info.Types[e].Value != nil {
		return whole
	}
	n := p.mutant(e.Pos(), was+" turned round")
	return binary(&ast.ParenExpr{X: whole}, token.NEQ, &ast.ParenExpr{X: is(n)})
}

func unparen(e ast.Expr) ast.Expr {
	for {
		x, ok := e.(*ast.ParenExpr)
		if !ok {
			return e
		}
		e = x.X
	}
}

func (p *pack) values(list []ast.Expr) {
	for i := range list {
		list[i] = p.value(list[i])
	}
}

// value puts mutants into an expression.
func (p *pack) value(e ast.Expr) ast.Expr {
	if e == nil || p.info.Types[e].Value != nil || p.info.Types[e].IsType() {
		return e
	}
	switch x := e.(type) {
	case *ast.ParenExpr:
		x.X = p.value(x.X)
	case *ast.CallExpr:
		if lit, ok := x.Fun.(*ast.FuncLit); ok {
			p.block(lit.Body.List)
		}
		p.values(x.Args)
	case *ast.FuncLit:
		p.block(x.Body.List)
	case *ast.UnaryExpr:
		x.X = p.value(x.X)
	case *ast.IndexExpr:
		x.Index = p.value(x.Index)
	case *ast.SliceExpr:
		x.Low, x.High = p.value(x.Low), p.value(x.High)
	case *ast.CompositeLit:
		p.values(x.Elts)
	case *ast.KeyValueExpr:
		x.Value = p.value(x.Value)
	case *ast.SelectorExpr:
		x.X = p.value(x.X)
	case *ast.BinaryExpr:
		return p.operator(x)
	}
	return e
}

// operator is a binary expression that becomes another while a mutant is awake.
// Both sides of and/or are worked out only where they were before.
func (p *pack) operator(x *ast.BinaryExpr) ast.Expr {
	logic := x.Op == token.LAND || x.Op == token.LOR
	arithmetic := x.Op == token.ADD || x.Op == token.SUB || x.Op == token.MUL || x.Op == token.QUO || x.Op == token.REM
	can := !arithmetic || p.counts(x)
	was := p.text(x)
	x.X, x.Y = p.value(x.X), p.value(x.Y)
	if !can {
		return x
	}
	var whole ast.Expr = x
	for _, op := range others[x.Op] {
		n := p.mutant(x.OpPos, was+" with "+op.String())
		other := binary(x.X, op, x.Y)
		if logic {
			whole = either(n, other, whole)
		} else {
			whole = &ast.CallExpr{Fun: ast.NewIdent("mutantOr"), Args: []ast.Expr{number(n), whole, other}}
		}
	}
	return whole
}

// counts reports whether an expression is a number.
func (p *pack) counts(e ast.Expr) bool {
	basic, ok := p.info.Types[e].Type.Underlying().(*types.Basic)
	return ok && basic.Info()&types.IsNumeric != 0
}

// either is func() bool { if mutantAwake == n { return other }; return whole }().
func either(n int, other, whole ast.Expr) ast.Expr {
	return &ast.CallExpr{Fun: &ast.FuncLit{
		Type: &ast.FuncType{Params: &ast.FieldList{}, Results: &ast.FieldList{List: []*ast.Field{{Type: ast.NewIdent("bool")}}}},
		Body: &ast.BlockStmt{List: []ast.Stmt{
			&ast.IfStmt{Cond: is(n), Body: &ast.BlockStmt{List: []ast.Stmt{&ast.ReturnStmt{Results: []ast.Expr{other}}}}},
			&ast.ReturnStmt{Results: []ast.Expr{whole}},
		}},
	}}
}

func binary(a ast.Expr, op token.Token, b ast.Expr) *ast.BinaryExpr {
	return &ast.BinaryExpr{X: a, Op: op, Y: b}
}

// is asks whether a mutant is awake, and notes that a run has passed it.
func is(n int) ast.Expr {
	return &ast.CallExpr{Fun: ast.NewIdent("mutantIs"), Args: []ast.Expr{number(n)}}
}

func number(n int) ast.Expr { return &ast.BasicLit{Kind: token.INT, Value: strconv.Itoa(n)} }
