//go:build !(js && wasm)

package civil

import "time"

// Here is the host's clock and zone.
func Here() Zone { return In(time.Local, time.Now) }
