package screens_test

import (
	"bytes"
	"fmt"

	"starwright/post/screens"
)

// A page of one set-up is one file that asks for no other.
func ExampleBuild() {
	var b bytes.Buffer
	err := screens.Build(&b, screens.Page{Title: "six stars", Screens: []screens.Screen{{Title: "Blanks to length"}}})
	fmt.Println(err, bytes.Contains(b.Bytes(), []byte("Blanks to length")), bytes.Contains(b.Bytes(), []byte("src=\"http")))
	// Output:
	// <nil> true false
}
