package ui

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
)

// Only app/ui/safe may use the framework's constructors for inputs, options,
// buttons, links and SVG, its handlers and its raw HTML. See decision 7 in
// DEVELOPERS.md: each of them shows wrong things unless guarded.
func TestOnlySafeUsesWhatMustBeGuarded(t *testing.T) {
	constructors := map[string]bool{"Input": true, "Textarea": true, "Select": true, "Option": true, "OptGroup": true, "Button": true, "A": true,
		"Svg": true, "Elem": true, "ElemSelfClosing": true, "Raw": true, "HTMLString": true, "PrintHTML": true, "Img": true, "IFrame": true, "Form": true,
		"Script": true, "Link": true, "Style": true, "FuncOf": true, "Progress": true, "Meter": true, "Textf": true}
	methods := map[string]bool{"Style": true, "Styles": true, "Value": true, "InnerHTML": true, "Textf": true}
	files := 0
	err := filepath.WalkDir(".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") || strings.HasPrefix(path, "safe"+string(filepath.Separator)) {
			return err
		}
		files++
		set := token.NewFileSet()
		f, err := parser.ParseFile(set, path, nil, 0)
		if err != nil {
			return err
		}
		ast.Inspect(f, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			sel, ok := call.Fun.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			at := set.Position(call.Pos())
			if x, ok := sel.X.(*ast.Ident); ok && x.Name == "app" {
				if constructors[sel.Sel.Name] {
					t.Errorf("%s: app.%s is used outside app/ui/safe", at, sel.Sel.Name)
				}
				return true
			}
			if x, ok := sel.X.(*ast.Ident); ok && x.Name == "safe" {
				return true
			}
			name := sel.Sel.Name
			handler := strings.HasPrefix(name, "On") && len(name) > 2 && name[2] >= 'A' && name[2] <= 'Z'
			if methods[name] && len(call.Args) > 0 || handler && len(call.Args) > 0 && name != "OnMount" && name != "OnNav" {
				t.Errorf("%s: .%s(…) is used outside app/ui/safe", at, name)
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if files < 8 {
		t.Fatalf("only %d files were looked at", files)
	}
}
