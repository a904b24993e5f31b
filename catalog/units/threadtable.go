package units

// coarsePitch holds the coarse pitches of ISO 262 (M5 to M12 are checked against
// it, the other sizes are from memory) by the
// nominal diameter in mm.
var coarsePitch = map[string]Length{
	"1.6": Millimetres(0.35), "2": Millimetres(0.4), "2.5": Millimetres(0.45), "3": Millimetres(0.5),
	"3.5": Millimetres(0.6), "4": Millimetres(0.7), "5": Millimetres(0.8), "6": Millimetres(1),
	"7": Millimetres(1), "8": Millimetres(1.25), "10": Millimetres(1.5), "12": Millimetres(1.75),
	"14": Millimetres(2), "16": Millimetres(2), "18": Millimetres(2.5), "20": Millimetres(2.5),
	"22": Millimetres(2.5), "24": Millimetres(3), "27": Millimetres(3), "30": Millimetres(3.5),
	"33": Millimetres(3.5), "36": Millimetres(4),
}

var pipeKinds = map[string]ThreadKind{
	"G": ThreadG, "BSPP": ThreadG, "R": ThreadR, "RP": ThreadR, "RC": ThreadR, "BSPT": ThreadR, "NPT": ThreadNPT, "NPTF": ThreadNPT,
}

type pipeSize struct{ g, gPitch, npt, nptPitch Length }

// pipeOf takes the outside diameter in mm and the threads per inch of ISO 228-1
// (which ISO 7-1 shares at the gauge plane) and those of ASME B1.20.1 in inches.
func pipeOf(gMm, gPerInch, nptIn, nptPerInch float64) pipeSize {
	return pipeSize{Millimetres(gMm), Inches(1 / gPerInch), Inches(nptIn), Inches(1 / nptPerInch)}
}

// pipeSizes: G1/4 is checked against ISO 228-1; the other rows are from memory.
var pipeSizes = map[string]pipeSize{
	"1/8":   pipeOf(9.728, 28, 0.405, 27),
	"1/4":   pipeOf(13.157, 19, 0.540, 18),
	"3/8":   pipeOf(16.662, 19, 0.675, 18),
	"1/2":   pipeOf(20.955, 14, 0.840, 14),
	"3/4":   pipeOf(26.441, 14, 1.050, 14),
	"1":     pipeOf(33.249, 11, 1.315, 11.5),
	"1-1/4": pipeOf(41.910, 11, 1.660, 11.5),
	"1-1/2": pipeOf(47.803, 11, 1.900, 11.5),
	"2":     pipeOf(59.614, 11, 2.375, 11.5),
}
