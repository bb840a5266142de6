package print

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"regexp"
	"runtime"
	"strconv"
	"sync"
)

// settle takes the clock out of a PDF as the renderer leaves it: the date of
// making in its information and in the embedded fonts. It packs what is not
// packed yet, copies all else, and makes the table of places anew.
func settle(data []byte) ([]byte, error) {
	places, err := objectPlaces(data)
	if err != nil {
		return nil, err
	}
	objects, err := settleObjects(data, places)
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	out.Write(data[:places.first])
	at := make([]int, len(places.begin))
	for _, i := range places.order {
		at[i] = out.Len()
		out.Write(objects[i])
	}
	xref := out.Len()
	fmt.Fprintf(&out, "xref\n0 %d\n0000000000 65535 f \n", len(at)+1)
	for _, p := range at {
		fmt.Fprintf(&out, "%010d 00000 n \n", p)
	}
	fmt.Fprintf(&out, "%s\nstartxref\n%d\n%%%%EOF\n", places.trailer, xref)
	return out.Bytes(), nil
}

// settleObjects settles all objects, on as many processors as there are.
func settleObjects(data []byte, places objectList) ([][]byte, error) {
	n := len(places.begin)
	out, errs := make([][]byte, n), make([]error, n)
	next := make(chan int)
	var all sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		all.Go(func() {
			pack, _ := zlib.NewWriterLevel(nil, zlib.BestSpeed) // a level there is
			for i := range next {
				out[i], errs[i] = settleObject(data[places.begin[i]:places.end[i]], pack)
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	all.Wait()
	return out, errors.Join(errs...)
}

var errPDF = errors.New("the PDF is not as its writer leaves it")

// objectList says where the objects of a PDF lie: object i+1 from begin[i] to
// end[i], in the order of the file.
type objectList struct {
	first      int
	begin, end []int
	order      []int
	trailer    []byte
}

// objectPlaces reads the table of places at the end of a PDF that was written
// in one go.
func objectPlaces(data []byte) (objectList, error) {
	var o objectList
	tail := bytes.LastIndex(data, []byte("startxref\n"))
	if tail < 0 {
		return o, errPDF
	}
	digits, _, _ := bytes.Cut(data[tail+len("startxref\n"):], []byte("\n"))
	xref, err := strconv.Atoi(string(digits))
	if err != nil || xref < 0 || xref > tail {
		return o, errPDF
	}
	table, trailer, ok := bytes.Cut(data[xref:tail], []byte("trailer\n"))
	if !ok {
		return o, errPDF
	}
	o.trailer = append([]byte("trailer\n"), bytes.TrimSpace(trailer)...)
	lines := bytes.Split(table, []byte("\n"))
	const heads = 3 // "xref", the count, the free entry
	for _, l := range lines[min(heads, len(lines)):] {
		if len(l) < 10 {
			continue
		}
		n, err := strconv.Atoi(string(l[:10]))
		if err != nil || n > xref {
			return o, errPDF
		}
		o.begin = append(o.begin, n)
	}
	o.bounds(xref)
	return o, nil
}

// bounds finds each object's end, which is where the next one in the file
// begins.
func (o *objectList) bounds(xref int) {
	n := len(o.begin)
	o.end, o.order = make([]int, n), make([]int, 0, n)
	o.first = xref
	for i, b := range o.begin {
		o.end[i] = xref
		for _, c := range o.begin {
			if c > b && c < o.end[i] {
				o.end[i] = c
			}
		}
		o.first = min(o.first, b)
	}
	for at := o.first; at < xref && len(o.order) < n; {
		for i, b := range o.begin {
			if b == at {
				o.order = append(o.order, i)
				at = o.end[i]
				break
			}
		}
	}
}

var (
	creation = regexp.MustCompile(`/CreationDate\(D:[^)]*\)`)
	producer = regexp.MustCompile(`/Producer\([^)]*\)`)
	length   = regexp.MustCompile(`/Length [0-9]+`)
)

// settleObject takes the clock out of one object.
func settleObject(obj []byte, pack *zlib.Writer) ([]byte, error) {
	head, rest, isStream := bytes.Cut(obj, []byte(">>stream\n"))
	if !isStream {
		if creation.Match(obj) {
			obj = creation.ReplaceAll(obj, nil)
			obj = producer.ReplaceAll(obj, []byte("/Producer(starwright)"))
		}
		return obj, nil
	}
	body, tail, err := cutStream(head, rest)
	if err != nil {
		return nil, err
	}
	if !bytes.Contains(head, []byte("/Filter")) {
		return packed(head, body, tail, "/Filter/FlateDecode", pack), nil
	}
	if !bytes.Contains(head, []byte("/FlateDecode")) {
		return obj, nil
	}
	z, err := zlib.NewReader(bytes.NewReader(body))
	if err != nil {
		return nil, fmt.Errorf("%w: %w", errPDF, err)
	}
	lead := make([]byte, 4)
	if _, err := io.ReadFull(z, lead); err != nil || !bytes.Equal(lead, []byte{0, 1, 0, 0}) {
		return obj, nil // no font
	}
	font, err := io.ReadAll(z)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", errPDF, err)
	}
	font = append(lead, font...)
	if err := settleFont(font); err != nil {
		return nil, err
	}
	return packed(head, font, tail, "", pack), nil
}

// packed returns an object with its stream packed anew; filter is what has to
// be said of that beside the length.
func packed(head, body, tail []byte, filter string, pack *zlib.Writer) []byte {
	var z bytes.Buffer
	pack.Reset(&z)
	_, _ = pack.Write(body) // a buffer takes all that is written to it
	_ = pack.Close()
	var out bytes.Buffer
	out.Write(length.ReplaceAll(head, []byte(filter+"/Length "+strconv.Itoa(z.Len()))))
	out.WriteString(">>stream\n")
	out.Write(z.Bytes())
	out.Write(tail)
	return out.Bytes()
}

// cutStream parts a stream's bytes from what follows them.
func cutStream(head, rest []byte) (body, tail []byte, err error) {
	m := length.Find(head)
	n, err := strconv.Atoi(string(bytes.TrimPrefix(m, []byte("/Length "))))
	if err != nil || n > len(rest) {
		return nil, nil, errPDF
	}
	return rest[:n], rest[n:], nil
}

// settleFont sets the time of change of a TrueType font to nothing and mends
// its sums (OpenType specification, "head" table and "Calculating checksums").
func settleFont(font []byte) error {
	const headLen, entry, magic = 54, 16, 0xB1B0AFBA
	if len(font) < 12 {
		return errPDF
	}
	tables := int(binary.BigEndian.Uint16(font[4:]))
	for i := range tables {
		e := 12 + i*entry
		if e+entry > len(font) {
			return errPDF
		}
		if string(font[e:e+4]) != "head" {
			continue
		}
		at := int(binary.BigEndian.Uint32(font[e+8:]))
		if at < 0 || at+headLen > len(font) {
			return errPDF
		}
		head := font[at : at+headLen]
		clear(head[28:36]) // modified
		clear(head[8:12])  // sum over the whole font
		binary.BigEndian.PutUint32(font[e+4:], fontSum(head))
		binary.BigEndian.PutUint32(head[8:], magic-fontSum(font))
		return nil
	}
	return errPDF
}

// fontSum adds a table up as big-endian words, the last filled with noughts.
func fontSum(b []byte) uint32 {
	var sum uint32
	for len(b) > 0 {
		var word [4]byte
		copy(word[:], b)
		sum += binary.BigEndian.Uint32(word[:])
		b = b[min(4, len(b)):]
	}
	return sum
}
