package ui

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"strings"
	"testing"
)

// A timer's goroutine hands what it does to the one that draws, and does nothing else:
// two of them in one record end the program.
func TestTimersDoNothingThemselves(t *testing.T) {
	found := 0
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		fset := token.NewFileSet()
		tree, err := parser.ParseFile(fset, name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(tree, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok || called(call) != "AfterFunc" {
				return true
			}
			found++
			handed := false
			if do, ok := call.Args[1].(*ast.FuncLit); ok && len(do.Body.List) == 1 {
				if first, ok := do.Body.List[0].(*ast.ExprStmt); ok {
					if c, ok := first.X.(*ast.CallExpr); ok {
						handed = called(c) == "later" || called(c) == "aside"
					}
				}
			}
			if !handed {
				t.Errorf("%s: the timer does something itself", fset.Position(call.Pos()))
			}
			return true
		})
	}
	if found < 4 {
		t.Errorf("only %d timers were found", found)
	}
}

// called is the name of the method that is called.
func called(c *ast.CallExpr) string {
	if sel, ok := c.Fun.(*ast.SelectorExpr); ok {
		return sel.Sel.Name
	}
	return ""
}
