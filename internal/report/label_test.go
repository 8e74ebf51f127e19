package report

import (
	"bytes"
	"image"
	"image/png"
	"strings"
	"testing"
	"time"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/wording"
)

// labelPicture draws the label of a spool.
func labelPicture(t *testing.T, p *project.Project, index int) image.Image {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, SpoolLabelPNG(&out, p, bench.Evaluate(p), index, wording.New("en")))
	img, err := png.Decode(&out)
	require.NoError(t, err)
	return img
}

// The code on the picture, read by another library, says what stands beside it.
func TestLabelIsReadByAnotherLibrary(t *testing.T) {
	p := sample(t, "olive-stone-pla")
	img := labelPicture(t, &p, 0)
	assert.Equal(t, image.Pt(827, 472), img.Bounds().Size(), "70 by 40 mm at 300 dots an inch")
	bitmap, err := gozxing.NewBinaryBitmapFromImage(img)
	require.NoError(t, err)
	read, err := qrcode.NewQRCodeReader().Decode(bitmap, nil)
	require.NoError(t, err)
	assert.Equal(t, "O10-1\nBlend: Olive 10 (10 wt%)\nLot: flour 1\nWound: 2026-08-21\nDiameter: 1.747 mm\nLength: 340 m\nDry first: 50 °C, 6 h\nNozzle: 0.4 mm\nPrint at: 200 °C", read.GetText())
}

// Long names are cut where there is no room, and what is not known is left out.
func TestLabelOfUnusualSpools(t *testing.T) {
	p := sample(t, "olive-stone-pla")
	p.Spool.Made[0].Name, p.Spool.Made[0].Lot = strings.Repeat("Långe Spule ", 15), strings.Repeat("lot ", 45)
	p.Spool.Made[1] = project.MadeSpool{}
	for i := range 2 {
		img := labelPicture(t, &p, i)
		right, bottom := img.Bounds().Dx()-10, img.Bounds().Dy()-20
		for x := range img.Bounds().Dx() {
			r, _, _, _ := img.At(x, bottom).RGBA()
			require.Equal(t, uint32(0xffff), r, "nor below the last row")
		}
		for y := range img.Bounds().Dy() {
			r, _, _, _ := img.At(right, y).RGBA()
			require.Equal(t, uint32(0xffff), r, "nothing reaches into the margin")
		}
	}
}

func TestLabelAsPDF(t *testing.T) {
	p := sample(t, "olive-stone-pla")
	var first, second bytes.Buffer
	made := time.Date(2026, 8, 21, 9, 0, 0, 0, time.UTC)
	require.NoError(t, SpoolLabelPDF(&first, &p, bench.Evaluate(&p), 0, made, wording.New("en")))
	require.NoError(t, SpoolLabelPDF(&second, &p, bench.Evaluate(&p), 0, made, wording.New("en")))
	assert.True(t, bytes.HasPrefix(first.Bytes(), []byte("%PDF-")))
	assert.Equal(t, first.Bytes(), second.Bytes())
	assert.Contains(t, first.String(), "/MediaBox [0 0 198.43 113.39]")
}
