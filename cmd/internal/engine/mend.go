package engine

import (
	"context"
	"slices"
	"strconv"
	"strings"

	"starwright/cmd/internal/job"
	"starwright/cmd/internal/jobedit"
	"starwright/cmd/internal/packet"
	"starwright/geom/words"
)

// assignment is a value that a message offers: key = value, perhaps with words
// behind it.
var assignment = words.Pattern(`(?s)^(?:\[([a-z_]+)\] )?([A-Za-z_]+) = (.+)$`)

// under is the table that a value goes to, where it stands behind it.
var under = words.Pattern(`^ under \[\[?([a-z_]+)\]`)

// headward marks a value that belongs above all tables and stands in one.
const headward = " above the first table"

// oneKey is a key by itself: what a misspelt one was meant to be.
var oneKey = words.Pattern(`^[a-z_]+$`)

// leavesOut is a key that a message would rather see gone.
var leavesOut = words.Pattern(`^leaving out ([a-z_]+)\b`)

// mend returns the change that a message offers and what its button says; nil
// where it offers none, or one after which the same thing is still wrong.
func (j Draft) mend(ctx context.Context, source []byte, e job.Error) ([]Edit, string) {
	edits, label := offered(e)
	if edits == nil {
		return nil, ""
	}
	after, err := applyAll(source, edits)
	if err != nil && edits[0].Rename != "" { // the key that was meant is there already
		edits, label = []Edit{{Path: edits[0].Path}}, "Leave out "+e.Key
		after, err = applyAll(source, edits)
	}
	if err != nil {
		return nil, ""
	}
	_, err = packet.Start(ctx, j.input(after), nil)
	for _, left := range inJob(err) {
		if left.Table == e.Table && left.Key == e.Key && left.Place == e.Place && left.Why == e.Why {
			return nil, ""
		}
	}
	return edits, label
}

func applyAll(data []byte, edits []Edit) ([]byte, error) {
	for _, one := range edits {
		next, err := one.apply(data)
		if err != nil {
			return nil, err
		}
		data = next
	}
	return data, nil
}

// offered turns what a message would try into a change.
func offered(e job.Error) ([]Edit, string) {
	would := strings.TrimSpace(e.Would)
	table := func(t string) []string {
		switch {
		case t == "":
			return tablePath(e)
		case e.Place > 0 && t == "star":
			return []string{t, strconv.Itoa(e.Place - 1)}
		case e.Place > 0 && slices.Contains(job.OwnTables(), t): // what nothing says yet, of this star alone
			return []string{"star", strconv.Itoa(e.Place - 1), t}
		}
		return strings.Split(t, ".")
	}
	if m := assignment().FindStringSubmatch(would); m != nil {
		value := jobedit.First(m[3])
		if value == "" {
			return nil, ""
		}
		path := append(table(m[1]), m[2])
		moved := e.Why == job.NoSuchKey && e.Key == m[2]
		if strings.HasPrefix(strings.TrimPrefix(m[3], value), headward) {
			path = []string{m[2]}
		}
		if other := under().FindStringSubmatch(strings.TrimPrefix(m[3], value)); other != nil {
			path = append(table(other[1]), m[2])
		}
		edits := []Edit{{Path: path, Value: &value}}
		if moved { // out of the table where no such key is
			edits = append([]Edit{{Path: append(table(""), e.Key)}}, edits...)
		}
		return edits, m[2] + " = " + value
	}
	if m := leavesOut().FindStringSubmatch(would); m != nil {
		return []Edit{{Path: append(table(""), m[1])}}, "Leave out " + m[1]
	}
	if e.Key != "" && oneKey().MatchString(would) {
		return []Edit{{Path: append(table(""), e.Key), Rename: would}}, "Call it " + would
	}
	return nil, ""
}
