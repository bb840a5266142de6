package ncread

// Rule is one thing a program is held to.
type Rule struct {
	Name   string // stable: std-group, sub-cycle
	Clause string // of NISTIR 6556 where the name begins with std-
	Why    string // what it is about, or why small controllers read it differently
	Note   bool   // harmless: goes to Report.Notes and does not fail the file
}

// rule is a Rule by its place in the table.
type rule uint8

// The rules of the standard.
const (
	stdLineLength rule = iota
	stdCharacter
	stdLetter
	stdNumber
	stdLineNumber
	stdCommentOpen
	stdCommentNested
	stdGroup
	stdRepeat
	stdMCount
	stdCode
	stdPercent
	stdAxisShared
	stdAxisMissing
	stdDwell
	stdArcWords
	stdArcRadius
	stdArcByRadius
	stdMotionMode
	stdFeed
	stdSpeed
	stdWordUnused
	stdEndMissing
	stdAfterEnd

	// Words outside the conservative subset.
	subBlockDelete
	subParameter
	subExpression
	subAxis
	subTool
	subCutterComp
	subToolLength
	subCycle
	subProbe
	subPlane
	subWorkOffset
	subCoordinates
	subInverseTime
	subPathControl
	subOptionalStop
	subReverse
	subCoolant
	subOverride
	subPallet
	subDwellInteger
	subCommentASCII
	subLineEnd
	subCentres
	subFeedForgotten

	// What the program leaves unsaid, or says in a way that ends badly.
	subUnitsUnset
	subUnitsChanged
	subDistanceUnset
	subOffsetUnset
	subPlaneUnset
	subFeedUnset
	subSpeedUnset
	subSpindleOff
	subStartUnknown
	subHeightUnknown
	subSize
	subSpindleAtStop
	subSpindleAtEnd

	// Notes.
	subPercent
	subSemicolon
	subLineNumber
	subCommentLong
	subPlaneIdle
	subCentresIdle
	subOffsetIdle
	subIncremental
	subRadiusArc
	subLineLength
	subFeedModeUnset
	subCompUnset
	subLiveCharacter
	subIdleWord
	subDwellLong
	subStopPlace

	ruleCount
)

// rules is the table. Read only.
var rules = [ruleCount]Rule{
	stdLineLength:    {Name: "std-line-length", Clause: "§3.3", Why: "a line has 256 characters at most"},
	stdCharacter:     {Name: "std-character", Clause: "§3.3", Why: "what is not explicitly allowed is illegal"},
	stdLetter:        {Name: "std-letter", Clause: "Table 3", Why: "words begin with A-D, F-N, P-T or X-Z"},
	stdNumber:        {Name: "std-number", Clause: "§3.3.2.1", Why: "a number is a sign, digits and one decimal point at most, without an exponent"},
	stdLineNumber:    {Name: "std-line-number", Clause: "§3.3.1", Why: "a line number is N and digits, first on its line"},
	stdCommentOpen:   {Name: "std-comment-open", Clause: "§3.3.4", Why: "a comment closes on its own line"},
	stdCommentNested: {Name: "std-comment-nested", Clause: "§3.3.4", Why: "a comment holds no parenthesis"},
	stdGroup:         {Name: "std-group", Clause: "§3.3.5", Why: "one word of a modal group a line"},
	stdRepeat:        {Name: "std-repeat", Clause: "§3.3.5", Why: "one word of a letter a line, G and M apart"},
	stdMCount:        {Name: "std-m-count", Clause: "§3.3.5", Why: "four M words a line at most"},
	stdCode:          {Name: "std-code", Clause: "Table 4", Why: "the language has no such code"},
	stdPercent:       {Name: "std-percent", Clause: "§3.1", Why: "% stands alone on the first line, and once more at the end"},
	stdAxisShared:    {Name: "std-axis-shared", Clause: "§3.4", Why: "two codes of a line cannot both use its axis words"},
	stdAxisMissing:   {Name: "std-axis-missing", Clause: "§3.5.1, §3.5.2", Why: "G0 and G1 need an axis word"},
	stdDwell:         {Name: "std-dwell", Clause: "§3.5.4", Why: "G4 needs P in seconds, zero or more"},
	stdArcWords:      {Name: "std-arc-words", Clause: "§3.5.3.2", Why: "an arc needs X or Y, and I or J"},
	stdArcRadius:     {Name: "std-arc-radius", Clause: "§3.5.3.2", Why: "start and end lie equally far from the centre"},
	stdArcByRadius:   {Name: "std-arc-by-radius", Clause: "§3.5.3.1", Why: "an arc by radius ends elsewhere, within twice the radius"},
	stdMotionMode:    {Name: "std-motion-mode", Clause: "§3.5.15", Why: "axis words need a motion in force"},
	stdFeed:          {Name: "std-feed", Clause: "§3.7.1", Why: "a feed is above zero"},
	stdSpeed:         {Name: "std-speed", Clause: "§3.7.2", Why: "a spindle speed is not negative"},
	stdWordUnused:    {Name: "std-word-unused", Clause: "§3.3", Why: "every word belongs to a code that uses it"},
	stdEndMissing:    {Name: "std-end-missing", Clause: "§3.1, §3.6.1", Why: "a program ends with M2"},
	stdAfterEnd:      {Name: "std-after-end", Clause: "§3.6.1", Why: "some controllers run on after the end; leave nothing there"},

	subBlockDelete:   {Name: "sub-block-delete", Why: "whether a line after / is run depends on a switch"},
	subParameter:     {Name: "sub-parameter", Why: "parameters are not replayed and small controllers have none; write the number"},
	subExpression:    {Name: "sub-expression", Why: "expressions are not replayed and small controllers have none; write the number"},
	subAxis:          {Name: "sub-axis", Why: "turning axes are not replayed; only X, Y and Z are"},
	subTool:          {Name: "sub-tool", Why: "small controllers refuse or skip a tool change, and the new cutter's length is not known here; one program per cutter"},
	subCutterComp:    {Name: "sub-cutter-comp", Why: "the cutter's way would depend on a table in the controller; write the way itself"},
	subToolLength:    {Name: "sub-tool-length", Why: "the depth would depend on a table in the controller"},
	subCycle:         {Name: "sub-cycle", Why: "small controllers have no canned cycles; write the moves"},
	subProbe:         {Name: "sub-probe", Why: "where a probing move ends is not in the program"},
	subPlane:         {Name: "sub-plane", Why: "arcs are cut in the XY plane, G17, and no other"},
	subWorkOffset:    {Name: "sub-work-offset", Why: "the job is set up for G54 and no other"},
	subCoordinates:   {Name: "sub-coordinates", Why: "the place would depend on values stored in the controller"},
	subInverseTime:   {Name: "sub-inverse-time", Why: "small controllers may not read F as inverse time; use G94"},
	subPathControl:   {Name: "sub-path-control", Why: "the controller may leave the written path, by how much is not known here"},
	subOptionalStop:  {Name: "sub-optional-stop", Why: "whether M1 stops depends on a switch; use M0"},
	subReverse:       {Name: "sub-reverse", Why: "a right-hand cutter turned backwards does not cut; use M3"},
	subCoolant:       {Name: "sub-coolant", Why: "what M7 and M8 switch differs from machine to machine"},
	subOverride:      {Name: "sub-override", Why: "it takes the feed knob out of the operator's hand"},
	subPallet:        {Name: "sub-pallet", Why: "there is no pallet to change; use M0"},
	subDwellInteger:  {Name: "sub-dwell-integer", Why: "some controllers read a whole P as milliseconds; write seconds with a decimal point, such as P2.0"},
	subCommentASCII:  {Name: "sub-comment-ascii", Why: "some controllers take bytes outside ASCII for commands, even within a comment"},
	subLineEnd:       {Name: "sub-line-end", Why: "strict controllers end a line at LF and take all of this for one line; end each line with LF, or CR and LF"},
	subCentres:       {Name: "sub-centres", Why: "I and J would be places; here they are steps from the start of the arc, G91.1"},
	subFeedForgotten: {Name: "sub-feed-forgotten", Why: "strict controllers forget the feed at this word and stop for lack of one; put F on this line or a later one"},

	subUnitsUnset:    {Name: "sub-units-unset", Why: "the unit at power-up differs; put G21 or G20 on a line before"},
	subUnitsChanged:  {Name: "sub-units-changed", Why: "the unit is given once, before any motion (NISTIR 6556 §3.5.7)"},
	subDistanceUnset: {Name: "sub-distance-unset", Why: "the distance mode at power-up differs; put G90 before the first motion"},
	subOffsetUnset:   {Name: "sub-offset-unset", Why: "the work offset at power-up differs; put G54 before the first motion"},
	subPlaneUnset:    {Name: "sub-plane-unset", Why: "the plane at power-up differs; put G17 before the first arc"},
	subFeedUnset:     {Name: "sub-feed-unset", Why: "the feed would be whatever the controller holds; give F in units a minute"},
	subSpeedUnset:    {Name: "sub-speed-unset", Why: "the spindle would turn at whatever speed the controller holds; give S before M3"},
	subSpindleOff:    {Name: "sub-spindle-off", Why: "a cutter that does not turn breaks; put S and M3 before"},
	subStartUnknown:  {Name: "sub-start-unknown", Why: "the program has not said where the cutter is; begin with G0 to a safe Z, then G0 X Y"},
	subHeightUnknown: {Name: "sub-height-unknown", Why: "travel at a height that the program has not set; put G0 with a safe Z on a line before"},
	subSize:          {Name: "sub-size", Why: "no machine of the trade goes there"},
	subSpindleAtStop: {Name: "sub-spindle-at-stop", Why: "hands go near a cutter that turns; put M5 before M0"},
	subSpindleAtEnd:  {Name: "sub-spindle-at-end", Why: "not every controller stops the spindle at the end; put M5 before M2"},

	subPercent:       {Name: "sub-percent", Why: "around a program: read properly; some controllers refuse it", Note: true},
	subSemicolon:     {Name: "sub-semicolon", Why: "the standard has comments in parentheses alone; read as a comment, as most controllers do", Note: true},
	subLineNumber:    {Name: "sub-line-number", Why: "the standard has up to five digits (NISTIR 6556 §3.3.1); read properly", Note: true},
	subCommentLong:   {Name: "sub-comment-long", Why: "the standard has lines of 256 characters (NISTIR 6556 §3.3); what is over is comment", Note: true},
	subPlaneIdle:     {Name: "sub-plane-idle", Why: "no arc is cut in it, so it changes nothing here", Note: true},
	subCentresIdle:   {Name: "sub-centres-idle", Why: "says what this program takes for granted; some controllers refuse it", Note: true},
	subOffsetIdle:    {Name: "sub-offset-idle", Why: "clears an offset that this program has not set; some controllers refuse it", Note: true},
	subIncremental:   {Name: "sub-incremental", Why: "steps instead of places: read properly", Note: true},
	subRadiusArc:     {Name: "sub-radius-arc", Why: "arc by radius: read properly", Note: true},
	subLineLength:    {Name: "sub-line-length", Why: "older controllers take 70 characters a line", Note: true},
	subFeedModeUnset: {Name: "sub-feed-mode-unset", Why: "G94 is in force at start by the standard; saying so is safer", Note: true},
	subCompUnset:     {Name: "sub-comp-unset", Why: "G40 is in force at start by the standard; saying so is safer", Note: true},
	subLiveCharacter: {Name: "sub-live-character", Why: "! ? and ~ are commands to some controllers, even within a comment", Note: true},
	subIdleWord:      {Name: "sub-idle-word", Why: "changes nothing here; some controllers refuse it", Note: true},
	subDwellLong:     {Name: "sub-dwell-long", Why: "P is in seconds", Note: true},
	subStopPlace:     {Name: "sub-stop-place", Why: "the operator may have moved the machine at the stop; give Z by itself and then X and Y before anything is cut", Note: true},
}
