package ncread

import (
	"fmt"
	"math"
)

// Modal groups, by the numbers of NISTIR 6556, Table 4. M groups are counted
// apart from G groups.
const (
	gOnce     = 0 // non-modal
	gMotion   = 1
	gPlane    = 2
	gDistance = 3
	gCentres  = 4 // of arcs: not in Table 4, a later addition
	gFeedMode = 5
	gUnits    = 6
	gComp     = 7
	gLength   = 8
	gReturn   = 10
	gOffset   = 12
	gPath     = 13
	gGroups   = 14

	mStop     = 4
	mTool     = 6
	mSpindle  = 7
	mCoolant  = 8
	mOverride = 9
	mGroups   = 10
)

// code is a G or M code times ten: 382 is G38.2.
type code int16

// none is the code of a group that has not been set.
const none code = -1

// Codes that the replay asks for by name.
const (
	g0   code = 0
	g1   code = 10
	g2   code = 20
	g3   code = 30
	g4   code = 40
	g17  code = 170
	g20  code = 200
	g21  code = 210
	g40  code = 400
	g49  code = 490
	g53  code = 530
	g54  code = 540
	g61  code = 610
	g64  code = 640
	g80  code = 800
	g81  code = 810
	g89  code = 890
	g90  code = 900
	g91  code = 910
	g901 code = 901
	g911 code = 911
	g93  code = 930
	g94  code = 940
	g382 code = 382
	g10  code = 100
	g28  code = 280
	g30  code = 300
	g92  code = 920
	g921 code = 921
	g922 code = 922

	m0  code = 0
	m1  code = 10
	m2  code = 20
	m3  code = 30
	m4  code = 40
	m5  code = 50
	m7  code = 70
	m8  code = 80
	m9  code = 90
	m30 code = 300
	m48 code = 480
	m60 code = 600
)

// closeness is how near a code must be to its number (NISTIR 6556 §3.3.2.1).
const closeness = 0.0001

// asCode returns the code that a number stands for; ok is false where it is
// not near any tenth or out of range.
func asCode(v float64) (c code, ok bool) {
	if n := int(v); n >= 0 && n < 100 && float64(n) == v { // nearly every one
		return code(n * 10), true
	}
	r := math.Round(v * 10)
	if !(r >= 0 && r < 1000) || math.Abs(v-r/10) > closeness {
		return none, false
	}
	return code(r), true
}

// gGroup returns the modal group of a G code, -1 where there is no such code.
func gGroup(c code) int {
	switch c {
	case g0, g1, g2, g3, g382, g80, 810, 820, 830, 840, 850, 860, 870, 880, 890:
		return gMotion
	case g17, 180, 190:
		return gPlane
	case g90, g91:
		return gDistance
	case g901, g911:
		return gCentres
	case g93, g94:
		return gFeedMode
	case g20, g21:
		return gUnits
	case g40, 410, 420:
		return gComp
	case 430, g49:
		return gLength
	case 980, 990:
		return gReturn
	case g54, 550, 560, 570, 580, 590, 591, 592, 593:
		return gOffset
	case g61, 611, g64:
		return gPath
	case g4, g10, g28, g30, g53, g92, g921, g922, 923:
		return gOnce
	}
	return -1
}

// mGroup returns the modal group of an M code, -1 where there is no such code.
func mGroup(c code) int {
	switch c {
	case m0, m1, m2, m30, m60:
		return mStop
	case 60:
		return mTool
	case m3, m4, m5:
		return mSpindle
	case m7, m8, m9:
		return mCoolant
	case m48, 490:
		return mOverride
	}
	return -1
}

// text returns the code as it is written after letter.
func (c code) text(letter string) string {
	if c%10 != 0 {
		return fmt.Sprintf("%s%d.%d", letter, c/10, c%10)
	}
	return fmt.Sprintf("%s%d", letter, c/10)
}
