package web

import _ "embed"

//go:embed sheet.css
var sheetStyle string

// SheetStyle is the style sheet of the handover sheet, for pages made outside
// the app.
func SheetStyle() string { return sheetStyle }
