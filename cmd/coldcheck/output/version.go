package output

import "runtime/debug"

// Version says which build this is, as Go stamps it.
func Version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" {
		return "coldcheck, of an unknown version"
	}
	return "coldcheck " + info.Main.Version
}
