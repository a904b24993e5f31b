package cli

import (
	"bytes"
	"fmt"
	"image/color"
	"io"
	"path/filepath"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"

	"fitfill/cmd/internal/app"
)

// saveSuppliers writes the files that were asked for.
func (e *env) saveSuppliers(a app.SuppliersAnswer, csvFile, plotFile string) error {
	if csvFile != "" {
		text, err := a.CSV()
		if err != nil {
			return err
		}
		if err := writeTable(csvFile, text); err != nil {
			return err
		}
	}
	if plotFile == "" {
		return nil
	}
	picture, err := drawSuppliers(a, strings.ToLower(filepath.Ext(plotFile)))
	if err != nil {
		return fmt.Errorf("draw %s: %w", plotFile, err)
	}
	return writeNew(plotFile, picture)
}

// plotFormat refuses a file name whose ending names no kind of picture.
func plotFormat(name string) error {
	switch strings.ToLower(filepath.Ext(name)) {
	case "", ".svg", ".png":
		if name == "" || filepath.Ext(name) != "" {
			return nil
		}
	}
	return &app.UsageError{Problem: name + " is no kind of picture that can be drawn", Hint: "end the name in .svg or .png"}
}

// The size of the picture: a sheet of paper upright.
const (
	plotWidth  = 18 * vg.Centimeter
	plotHeight = 21 * vg.Centimeter
	plotMargin = vg.Centimeter / 2
)

// drawSuppliers draws the shares with their limits above the shares by day. It
// uses black and grey only: suppliers differ by dash and by the name at the end
// of the line.
func drawSuppliers(a app.SuppliersAnswer, format string) ([]byte, error) {
	shares, err := sharesPlot(a)
	if err != nil {
		return nil, err
	}
	curves, err := curvesPlot(a)
	if err != nil {
		return nil, err
	}
	var canvas vg.CanvasSizer
	var write io.WriterTo
	if format == ".png" {
		c := vgimg.PngCanvas{Canvas: vgimg.NewWith(vgimg.UseWH(plotWidth, plotHeight), vgimg.UseDPI(150))}
		canvas, write = c, c
	} else {
		c := vgsvg.New(plotWidth, plotHeight)
		canvas, write = c, c
	}
	page := draw.New(canvas)
	shares.Draw(draw.Crop(page, plotMargin, -2*plotMargin, plotHeight*12/20, -plotMargin))
	curves.Draw(draw.Crop(page, plotMargin, -2*plotMargin, plotMargin, -plotHeight*9/20))
	var out bytes.Buffer
	if _, err := write.WriteTo(&out); err != nil {
		return nil, err
	}
	// A reader's machine need not have the font that the picture was measured with.
	return bytes.ReplaceAll(out.Bytes(), []byte("font-family:Liberation Sans;"), []byte("font-family:Liberation Sans,Arial,sans-serif;")), nil
}

func plainPlot(title, x string) *plot.Plot {
	p := plot.New()
	p.Title.Text, p.X.Label.Text = title, x
	for _, s := range []*draw.TextStyle{
		&p.Title.TextStyle, &p.X.Label.TextStyle, &p.Y.Label.TextStyle, &p.X.Tick.Label, &p.Y.Tick.Label, &p.Legend.TextStyle,
	} {
		s.Font.Variant, s.Font.Size = "Sans", vg.Points(10)
	}
	p.Title.Padding = vg.Points(8)
	p.X.Min, p.Y.Min = 0, 0
	return p
}

// sharesPlot draws one line a supplier: the share faulty within a year and its
// limits.
func sharesPlot(a app.SuppliersAnswer) (*plot.Plot, error) {
	what := "all part types"
	if a.Type != "" {
		what = a.Type
	}
	p := plainPlot(fmt.Sprintf("Faulty within %d days, %s, as known on %s", app.RateDays, what, a.AsOf), "% with 95 % limits")
	type bars struct {
		plotter.XYs
		plotter.XErrors
	}
	var b bars
	names := make([]string, len(a.Suppliers))
	for i, s := range a.Suppliers {
		y := len(a.Suppliers) - 1 - i // best on top
		names[y] = s.Supplier
		r := s.Rate()
		if r == nil {
			names[y] += " (" + s.Unseen() + ")"
			continue
		}
		b.XYs = append(b.XYs, plotter.XY{X: r.Est, Y: float64(y)})
		b.XErrors = append(b.XErrors, struct{ Low, High float64 }{r.Low - r.Est, r.High - r.Est})
	}
	p.NominalY(names...)
	p.Y.Min, p.Y.Max = -0.5, float64(len(names))-0.5
	if len(b.XYs) == 0 {
		p.X.Max = 1
		return p, nil
	}
	limits, err := plotter.NewXErrorBars(b)
	if err != nil {
		return nil, err
	}
	points, err := plotter.NewScatter(b.XYs)
	if err != nil {
		return nil, err
	}
	limits.CapWidth = vg.Points(7)
	points.GlyphStyle = draw.GlyphStyle{Color: color.Black, Radius: vg.Points(3.5), Shape: draw.CircleGlyph{}}
	grid := plotter.NewGrid()
	grid.Horizontal.Width = 0
	grid.Vertical.Color = color.Gray{210}
	p.Add(grid, limits, points)
	p.X.Min = 0
	return p, nil
}

// dashes tell suppliers apart without colour.
var dashes = [][]vg.Length{
	nil, {vg.Points(6), vg.Points(3)}, {vg.Points(1.5), vg.Points(2.5)}, {vg.Points(8), vg.Points(2), vg.Points(1.5), vg.Points(2)},
	{vg.Points(3), vg.Points(3)}, {vg.Points(10), vg.Points(5)}, {vg.Points(4), vg.Points(1.5), vg.Points(1), vg.Points(1.5), vg.Points(1), vg.Points(1.5)},
}

// curvesPlot draws the share that came back faulty by day, with each supplier's
// name where its line ends. A line ends where too few pieces are still watched.
func curvesPlot(a app.SuppliersAnswer) (*plot.Plot, error) {
	p := plainPlot("Came back faulty by day", "days since it was bought")
	p.Y.Label.Text = "%"
	grid := plotter.NewGrid()
	grid.Vertical.Color, grid.Horizontal.Color = color.Gray{210}, color.Gray{210}
	p.Add(grid)
	var ends plotter.XYs
	var names []string
	for i, s := range a.Suppliers {
		if len(s.Curve) == 0 {
			continue
		}
		var xy plotter.XYs
		for _, c := range s.Curve {
			xy = append(xy, plotter.XY{X: float64(c.Day), Y: c.Pct})
		}
		last := plotter.XY{X: float64(s.CurveEnd), Y: xy[len(xy)-1].Y}
		line, err := plotter.NewLine(append(xy, last))
		if err != nil {
			return nil, err
		}
		line.StepStyle = plotter.PostStep
		line.LineStyle = draw.LineStyle{Color: color.Black, Width: vg.Points(1.2), Dashes: dashes[i%len(dashes)]}
		p.Add(line)
		p.Legend.Add(s.Supplier, line)
		ends, names = append(ends, last), append(names, s.Supplier)
	}
	p.Legend.Top, p.Legend.Left = true, true
	p.Legend.XOffs, p.Legend.YOffs = vg.Points(8), -vg.Points(4)
	p.Legend.ThumbnailWidth, p.Legend.Padding = 1.5*vg.Centimeter, vg.Points(3)
	if len(ends) == 0 {
		return p, nil
	}
	labels, err := plotter.NewLabels(plotter.XYLabels{XYs: ends, Labels: names})
	if err != nil {
		return nil, err
	}
	for i := range labels.TextStyle {
		labels.TextStyle[i].Font.Variant, labels.TextStyle[i].Font.Size = "Sans", vg.Points(8)
	}
	labels.Offset = vg.Point{X: vg.Points(3)}
	p.Add(labels)
	p.X.Max = app.RateDays
	p.Y.Max *= 1.3 // room for the legend
	return p, nil
}
