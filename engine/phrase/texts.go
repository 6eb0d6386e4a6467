//go:build !js

package phrase

import "embed"

//go:embed text
var texts embed.FS
