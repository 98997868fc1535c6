//go:build screen

package schema

import _ "embed"

// The app ships without the words that are spoken: its reader of dictations is a
// program of its own (wasm/words).
//
//go:embed generated/screen.json
var definitions string
