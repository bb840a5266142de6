package job

import "strings"

// shopHead stands above the tables of a new shop file.
const shopHead = `# A shop for starwright: what you have, the same for every job.
#
# Keep it beside your jobs under this name, shop.toml; or once for all of them
# in your configuration folder (starwright plan says which file it took); or
# name it with --shop. What a job says itself comes first, key by key.
#
# Everything after a # is a note for people; the program does not read it. A
# line that begins with # and looks like a setting shows what you get when you
# leave it out; one that begins with # e.g. is an example. Take away the # or the
# # e.g. and change it as you like.
#
# Lengths are written in quotes, as you would say them at the bench:
#   "19 mm"  "1.9 cm"  "3 1/2 in"  "3-1/2in"  "9 1/4\""
# A bare number is in the units of the next line.

units = "mm"                   # "mm" or "in", for the jobs that do not say

`

// ShopStarter returns a shop file with every key explained, made from the
// tables of [Starter].
func ShopStarter() []byte {
	var b strings.Builder
	b.WriteString(shopHead)
	var parts []string
	for _, part := range strings.Split("\n"+starter, "\n[")[1:] {
		name, _, _ := strings.Cut(part, "]")
		for _, t := range ShopTables() {
			if t == name {
				parts = append(parts, "["+strings.TrimSpace(part)+"\n")
			}
		}
	}
	b.WriteString(strings.Join(parts, "\n"))
	return []byte(b.String())
}
