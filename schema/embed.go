//go:build !screen

package schema

import _ "embed"

//go:embed generated/definitions.json
var definitions string
