package desk

import (
	"fmt"
	"strings"

	"starwright/cmd/internal/engine"
	"starwright/cmd/internal/packet"
)

// ShopFile is the shop file's name.
const ShopFile = "shop.toml"

const longestName = 120 // bytes, so that a packet's name beside it fits any system

// jobName makes sure that a name is that of a job file or the shop file: one
// plain name of the folder itself, which means the same on every system.
func jobName(name string) error {
	if !strings.HasSuffix(name, ".toml") {
		return refuse("%s: a job file's name ends with .toml. Try: porch.toml", shown(name))
	}
	return plainName(name, "porch.toml")
}

// packetName makes sure that a name is that of a folder for a packet.
func packetName(name string) error { return plainName(name, "porch-packet") }

func plainName(name, example string) error {
	why, instead := packet.NameFault(name)
	switch {
	case name == "" || len(name) > longestName:
		why, instead = fmt.Sprintf("is not 1 to %d letters long", longestName), example
	case name[0] == '.':
		why, instead = "begins with a dot", example
	case name[0] == ' ':
		why, instead = "begins with a blank", example
	}
	if why != "" {
		return refuse("%s: this name %s. Try: %s", shown(name), why, instead)
	}
	return nil
}

// shown is a name fit to be shown.
func shown(name string) string {
	const most = 80
	if len(name) > most {
		name = name[:most] + "..."
	}
	return fmt.Sprintf("%q", name)
}

// refuse is a call that is not carried out.
func refuse(format string, args ...any) error {
	return &engine.Fault{Kind: "refused", Lines: []string{fmt.Sprintf(format, args...)}}
}
