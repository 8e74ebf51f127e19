package report

import (
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"
	"math"
	"strings"
	"time"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"codeberg.org/go-pdf/fpdf"
	"github.com/boombuler/barcode/qr"
	xfont "golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"

	"fillwright/internal/bench"
	"fillwright/internal/figure"
	"fillwright/internal/project"
	"fillwright/internal/wording"
)

// Measures of a label, in millimetres and points.
const (
	labelWidth   = 70.0
	labelHeight  = 40.0
	labelMargin  = 3.0
	labelCode    = 20.0 // side of the code
	labelTitle   = 13.0
	labelText    = 7.5
	labelNameCol = 17.0 // width of the names of rows
	labelDPI     = 300
	mmPerInch    = 25.4
)

// label is what stands on the label of a spool.
type label struct {
	title string
	rows  [][2]string
	code  image.Image // one pixel for each module
}

// SpoolLabelPDF writes the label of a spool of the ledger as a page of its size. The time
// stands in the file only, as when it was made.
func SpoolLabelPDF(out io.Writer, p *project.Project, s *bench.Sheet, index int, made time.Time, w *wording.Words) error {
	l, err := newLabel(p, s, index, w)
	if err != nil {
		return err
	}
	pdf := fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "mm", Size: fpdf.SizeType{Wd: labelWidth, Ht: labelHeight}})
	pdf.SetCreationDate(made)
	pdf.SetModificationDate(made)
	pdf.SetCatalogSort(true)
	pdf.SetTitle(l.title, true)
	pdf.AddUTF8FontFromBytes("sans", "", liberationsansregular.TTF)
	pdf.AddUTF8FontFromBytes("sans", "B", liberationsansbold.TTF)
	pdf.SetAutoPageBreak(false, 0)
	pdf.AddPage()
	l.draw(&pdfCanvas{pdf})
	return pdf.Output(out)
}

// SpoolLabelPNG writes the same label as a picture of 300 dots an inch.
func SpoolLabelPNG(out io.Writer, p *project.Project, s *bench.Sheet, index int, w *wording.Words) error {
	l, err := newLabel(p, s, index, w)
	if err != nil {
		return err
	}
	c, err := newPNGCanvas()
	if err != nil {
		return err
	}
	l.draw(c)
	return png.Encode(out, c.img)
}

// newLabel gathers what is known of a spool. What is not known is left out.
func newLabel(p *project.Project, s *bench.Sheet, index int, w *wording.Words) (*label, error) {
	made, sheet := &p.Spool.Made[index], &s.Spools[index]
	l := &label{title: figure.SpoolName(s, index, w)}
	add := func(id, value string) {
		if value != "" {
			l.rows = append(l.rows, [2]string{w.Text("label." + id), value})
		}
	}
	comma := w.DecimalComma()
	if sheet.Blend >= 0 {
		b := &s.Blends[sheet.Blend]
		name := b.Name
		if r := b.Result(bench.FillerMassFraction); r.Known() && r.Value > 0 {
			name += " (" + w.Number(r.Value, 3) + " wt%)"
		}
		add("blend", name)
	}
	add("lot", made.Lot)
	add("date", made.Date)
	if r, known := sheet.Results[bench.SpoolMeanDiameter]; known {
		add("diameter", w.Fixed(r.Value, 3)+" mm")
	} else {
		add("diameter", p.Spool.Diameter.Pretty(comma))
	}
	if r, known := sheet.Results[bench.SpoolLength]; known {
		add("length", w.Number(r.Value, 3)+" m")
	}
	add("dry", joined(", ", made.DryTemperature.Pretty(comma), made.DryTime.Pretty(comma)))
	add("nozzle", p.Print.Nozzle.Pretty(comma))
	add("temperature", p.Print.Temperature.Pretty(comma))
	return l, l.encode()
}

func joined(separator string, parts ...string) string {
	var given []string
	for _, part := range parts {
		if part != "" {
			given = append(given, part)
		}
	}
	return strings.Join(given, separator)
}

// encode makes the code: the label as lines of plain text, that any reader shows.
func (l *label) encode() error {
	lines := []string{l.title}
	for _, row := range l.rows {
		lines = append(lines, row[0]+": "+row[1])
	}
	text := strings.Join(lines, "\n")
	const most = 1200 // bytes that a code of this size can hold and a reader still reads
	if len(text) > most {
		text = strings.ToValidUTF8(text[:most], "")
	}
	code, err := qr.Encode(text, qr.M, qr.Unicode)
	if err != nil {
		return err
	}
	l.code = code
	return nil
}

// labelCanvas is what a label is drawn on, in millimetres from the top left.
type labelCanvas interface {
	text(x, baseline, sizePt float64, bold bool, text string)
	width(sizePt float64, bold bool, text string) float64
	square(x, y, side float64)
}

// draw puts everything in its place; what is too long is cut with an ellipsis.
func (l *label) draw(c labelCanvas) {
	const firstMM, mostMM = labelMargin + 9, 4.0
	pitch := min(mostMM, (labelHeight-labelMargin-firstMM)/float64(max(len(l.rows)-1, 1)))
	right := labelWidth - labelMargin
	codeLeft := right - labelCode
	c.text(labelMargin, labelMargin+4, labelTitle, true, cutTo(c, labelTitle, true, l.title, codeLeft-2*labelMargin))
	y := firstMM
	for _, row := range l.rows {
		end := right
		if y-3 < labelMargin+labelCode {
			end = codeLeft - 1.5
		}
		c.text(labelMargin, y, labelText, false, row[0])
		c.text(labelMargin+labelNameCol, y, labelText, true, cutTo(c, labelText, true, row[1], end-labelMargin-labelNameCol))
		y += pitch
	}
	box := l.code.Bounds()
	module := labelCode / float64(box.Dx())
	for i := range box.Dx() {
		for j := range box.Dy() {
			if gray := color.GrayModel.Convert(l.code.At(box.Min.X+i, box.Min.Y+j)).(color.Gray); gray.Y < 128 {
				c.square(codeLeft+float64(i)*module, labelMargin+float64(j)*module, module)
			}
		}
	}
}

// cutTo shortens a text to a width.
func cutTo(c labelCanvas, sizePt float64, bold bool, text string, most float64) string {
	if c.width(sizePt, bold, text) <= most {
		return text
	}
	runes := []rune(text)
	for len(runes) > 0 && c.width(sizePt, bold, string(runes)+"…") > most {
		runes = runes[:len(runes)-1]
	}
	return string(runes) + "…"
}

// pdfCanvas draws into a PDF.
type pdfCanvas struct{ pdf *fpdf.Fpdf }

func (c *pdfCanvas) font(sizePt float64, bold bool) {
	style := ""
	if bold {
		style = "B"
	}
	c.pdf.SetFont("sans", style, sizePt)
}

func (c *pdfCanvas) text(x, baseline, sizePt float64, bold bool, text string) {
	c.font(sizePt, bold)
	c.pdf.Text(x, baseline, text)
}

func (c *pdfCanvas) width(sizePt float64, bold bool, text string) float64 {
	c.font(sizePt, bold)
	return c.pdf.GetStringWidth(text)
}

func (c *pdfCanvas) square(x, y, side float64) {
	c.pdf.SetFillColor(0, 0, 0)
	c.pdf.Rect(x, y, side*1.01, side*1.01, "F") // a little more, so that no line shows between modules
}

// pngCanvas draws into an image.
type pngCanvas struct {
	img   *image.Gray
	fonts map[bool]*opentype.Font
	faces map[faceKey]xfont.Face
}

type faceKey struct {
	size float64
	bold bool
}

func newPNGCanvas() (*pngCanvas, error) {
	c := &pngCanvas{img: image.NewGray(image.Rect(0, 0, pixelsOf(labelWidth), pixelsOf(labelHeight))), fonts: map[bool]*opentype.Font{}, faces: map[faceKey]xfont.Face{}}
	draw.Draw(c.img, c.img.Rect, image.White, image.Point{}, draw.Src)
	for bold, data := range map[bool][]byte{false: liberationsansregular.TTF, true: liberationsansbold.TTF} {
		f, err := opentype.Parse(data)
		if err != nil {
			return nil, err
		}
		c.fonts[bold] = f
		for _, size := range []float64{labelTitle, labelText} {
			face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: size, DPI: labelDPI, Hinting: xfont.HintingNone})
			if err != nil {
				return nil, err
			}
			c.faces[faceKey{size, bold}] = face
		}
	}
	return c, nil
}

func pixelsOf(mm float64) int { return int(math.Round(mm / mmPerInch * labelDPI)) }

func (c *pngCanvas) text(x, baseline, sizePt float64, bold bool, text string) {
	d := xfont.Drawer{Dst: c.img, Src: image.Black, Face: c.faces[faceKey{sizePt, bold}], Dot: fixed.P(pixelsOf(x), pixelsOf(baseline))}
	d.DrawString(text)
}

func (c *pngCanvas) width(sizePt float64, bold bool, text string) float64 {
	advance := xfont.MeasureString(c.faces[faceKey{sizePt, bold}], text)
	return float64(advance) / 64 / labelDPI * mmPerInch
}

func (c *pngCanvas) square(x, y, side float64) {
	draw.Draw(c.img, image.Rect(pixelsOf(x), pixelsOf(y), pixelsOf(x+side), pixelsOf(y+side)), image.Black, image.Point{}, draw.Src)
}
