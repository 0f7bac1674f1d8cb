package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// mutant is one change of one file.
type mutant struct {
	pkg, file string
	source    []byte
	from, to  int // the bytes that are replaced
	with      string
	at        token.Position
	words     string
}

func (m *mutant) String() string {
	file := m.file
	if here, err := os.Getwd(); err == nil {
		if rel, err := filepath.Rel(here, file); err == nil {
			file = rel
		}
	}
	return fmt.Sprintf("%s:%d:%d: %s", file, m.at.Line, m.at.Column, m.words)
}

// text is the file with the change.
func (m *mutant) text() []byte {
	return slices.Concat(m.source[:m.from], []byte(m.with), m.source[m.to:])
}

// other is what an operator is turned into.
var other = map[token.Token]token.Token{
	token.LSS: token.LEQ, token.LEQ: token.LSS, token.GTR: token.GEQ, token.GEQ: token.GTR, token.EQL: token.NEQ, token.NEQ: token.EQL,
	token.ADD: token.SUB, token.SUB: token.ADD, token.MUL: token.QUO, token.QUO: token.MUL, token.LAND: token.LOR, token.LOR: token.LAND,
	token.ADD_ASSIGN: token.SUB_ASSIGN, token.SUB_ASSIGN: token.ADD_ASSIGN, token.MUL_ASSIGN: token.QUO_ASSIGN, token.QUO_ASSIGN: token.MUL_ASSIGN,
	token.INC: token.DEC, token.DEC: token.INC,
}

// reader finds the changes of a file.
type reader struct {
	pkg, file string
	source    []byte
	set       *token.FileSet
	all       []*mutant
}

func mutantsOf(file, pkg string) ([]*mutant, error) {
	source, err := os.ReadFile(file)
	if err != nil {
		return nil, err
	}
	r := &reader{pkg: pkg, file: file, source: source, set: token.NewFileSet()}
	parsed, err := parser.ParseFile(r.set, file, source, parser.SkipObjectResolution)
	if err != nil {
		return nil, err
	}
	ast.PreorderStack(parsed, nil, func(n ast.Node, around []ast.Node) bool {
		if _, ok := n.(*ast.ImportSpec); ok {
			return false
		}
		r.operators(n)
		r.conditions(n)
		r.statements(n, around)
		return true
	})
	return r.all, nil
}

func (r *reader) offset(p token.Pos) int { return r.set.Position(p).Offset }

func (r *reader) textOf(n ast.Node) string {
	return string(r.source[r.offset(n.Pos()):r.offset(n.End())])
}

// told is a stretch of the source in one short line.
func told(text string) string {
	const most = 60
	text = strings.Join(strings.Fields(text), " ")
	if len(text) > most {
		text = text[:most] + "…"
	}
	return text
}

func (r *reader) add(from, to token.Pos, with, words string, args ...any) {
	r.all = append(r.all, &mutant{r.pkg, r.file, r.source, r.offset(from), r.offset(to), with, r.set.Position(from), fmt.Sprintf(words, args...)})
}

func (r *reader) turn(at token.Pos, op token.Token, of ast.Node) {
	if with, ok := other[op]; ok {
		r.add(at, at+token.Pos(len(op.String())), with.String(), "%s to %s in %s", op, with, told(r.textOf(of)))
	}
}

// operators are turned, negations dropped, figures changed.
func (r *reader) operators(n ast.Node) {
	switch n := n.(type) {
	case *ast.BinaryExpr:
		r.turn(n.OpPos, n.Op, n)
	case *ast.AssignStmt:
		r.turn(n.TokPos, n.Tok, n)
	case *ast.IncDecStmt:
		r.turn(n.TokPos, n.Tok, n)
	case *ast.UnaryExpr:
		if n.Op == token.NOT || n.Op == token.SUB {
			r.add(n.Pos(), n.X.Pos(), "", "%s dropped from %s", n.Op, told(r.textOf(n)))
		}
	case *ast.BasicLit:
		if n.Kind == token.INT || n.Kind == token.FLOAT {
			r.add(n.Pos(), n.End(), "("+n.Value+"+1)", "%s plus 1", n.Value)
			if x, err := strconv.ParseFloat(n.Value, 64); err == nil && x != 0 && n.Value != "1" {
				r.add(n.Pos(), n.End(), "("+n.Value+"/2)", "%s halved", n.Value)
			}
		}
	}
}

// conditions are set to true or false; what they work out is still worked out, so that it is used.
func (r *reader) conditions(n ast.Node) {
	var cond ast.Expr
	switch n := n.(type) {
	case *ast.IfStmt:
		cond = n.Cond
		r.add(cond.Pos(), cond.End(), "(("+r.textOf(cond)+") || true)", "%s is true", told(r.textOf(cond)))
	case *ast.ForStmt: // one that never ends says nothing
		cond = n.Cond
	}
	if cond != nil {
		r.add(cond.Pos(), cond.End(), "(("+r.textOf(cond)+") && false)", "%s is false", told(r.textOf(cond)))
	}
}

// statements are left out, and returns give zeros.
func (r *reader) statements(n ast.Node, around []ast.Node) {
	leave := func() { r.add(n.Pos(), n.End(), "", "left out: %s", told(r.textOf(n))) }
	if len(around) == 0 {
		return
	}
	switch around[len(around)-1].(type) {
	case *ast.BlockStmt, *ast.CaseClause, *ast.CommClause:
	default:
		return // of the head of an if or a for
	}
	switch n := n.(type) {
	case *ast.AssignStmt:
		if n.Tok != token.DEFINE {
			leave()
		}
	case *ast.ExprStmt, *ast.IncDecStmt, *ast.BranchStmt:
		leave()
	case *ast.ReturnStmt:
		r.zeros(n, around)
	}
}

// zeros has a return give the zero of each of its types.
func (r *reader) zeros(n *ast.ReturnStmt, around []ast.Node) {
	if len(n.Results) == 0 {
		return
	}
	var results *ast.FieldList
	for _, f := range around {
		switch f := f.(type) {
		case *ast.FuncDecl:
			results = f.Type.Results
		case *ast.FuncLit:
			results = f.Type.Results
		}
	}
	if results == nil {
		return
	}
	var zeros, were []string
	for _, f := range results.List {
		for range max(1, len(f.Names)) {
			zeros = append(zeros, "*new("+r.textOf(f.Type)+")")
		}
	}
	for _, x := range n.Results {
		were = append(were, r.textOf(x))
	}
	zero := func(s string) bool { return slices.Contains([]string{"0", "nil", "false", `""`}, s) }
	if !slices.ContainsFunc(were, func(s string) bool { return !zero(s) }) {
		return
	}
	r.add(n.Pos(), n.End(), "return "+strings.Join(zeros, ", "), "zeros for %s", told(r.textOf(n)))
}
