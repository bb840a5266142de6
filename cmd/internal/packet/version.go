package packet

// version is the program's own version; it changes with what a packet says.
const version = "0.1.0"

// Version returns the program's version.
func Version() string { return version }
