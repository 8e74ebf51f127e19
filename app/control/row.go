package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// row is what all fields share: a label above, the input, a muted remark at its
// right and, under it, why something was refused.
type row struct {
	widget.BaseWidget
	hosted

	label, remark, message *Text
	sign                   *sign
	input                  fyne.CanvasObject
	wide                   bool // the input takes the whole width, the remark goes below
	snug                   bool // the input takes the width it needs, the remark follows it
	inset                  float32
}

func (r *row) build(self fyne.Widget, label, remark string, input fyne.CanvasObject) {
	r.label, r.remark = NewText(label, Muted), NewCaption(remark)
	r.label.SizeName = theme.SizeNameCaptionText
	r.message = NewText("", Danger)
	r.message.SizeName = theme.SizeNameCaptionText
	r.sign = newSign(iconStop)
	r.sign.Hide()
	r.input = input
	r.ExtendBaseWidget(self)
}

// SetRemark replaces the muted text at the right of the input.
func (r *row) SetRemark(text string) {
	if r.remark.String() == text {
		return
	}
	r.remark.SetText(text)
	r.Refresh()
	r.settled()
}

// SetLabel replaces the text above the input.
func (r *row) SetLabel(text string) { r.label.SetText(text); r.Refresh() }

// Remark is the muted text at the right of the input.
func (r *row) Remark() string { return r.remark.String() }

func (r *row) showMessage(message string) {
	r.message.SetText(message)
	r.sign.Hidden = message == ""
	r.Refresh()
	r.settled()
}

// rowPlan is where everything of a row goes at a width.
type rowPlan struct {
	labelH           float32
	inputW, inputH   float32
	remarkX, remarkY float32
	remarkW, remarkH float32
	messageY, height float32
	signSize         float32
}

func (r *row) plan(width float32) rowPlan {
	p := rowPlan{inputH: r.input.MinSize().Height, inputW: width, signSize: em(14)}
	if r.label.String() != "" {
		p.labelH = r.label.HeightFor(width) + gap(2)
	}
	y := p.labelH
	beside := !r.wide && width >= em(240)
	switch {
	case r.snug:
		p.inputW = fyne.Min(r.input.MinSize().Width, width)
		beside = p.inputW+gap(10)+r.remark.NaturalWidth() <= width
	case beside:
		p.inputW = fyne.Max(width*0.5-gap(6), r.input.MinSize().Width)
	}
	if r.remark.String() != "" {
		if beside {
			p.remarkX, p.remarkW = p.inputW+gap(10), fyne.Max(width-p.inputW-gap(10), em(40))
			p.remarkH = r.remark.HeightFor(p.remarkW)
			p.remarkY = y + fyne.Max((p.inputH-p.remarkH)/2, 0)
			y += fyne.Max(p.inputH, p.remarkH)
		} else {
			p.remarkW, p.remarkH = width, r.remark.HeightFor(width)
			p.remarkY = y + p.inputH + gap(2)
			y = p.remarkY + p.remarkH
		}
	} else {
		y += p.inputH
	}
	if r.message.String() != "" {
		p.messageY = y + gap(3)
		y = p.messageY + fyne.Max(r.message.HeightFor(width-p.signSize-gap(5)), p.signSize)
	}
	p.height = y
	return p
}

// HeightFor returns the height of the row at a width.
func (r *row) HeightFor(width float32) float32 { return r.plan(width).height }

func (r *row) leastWidth() float32 { return fyne.Max(r.input.MinSize().Width, em(110)) }

func (r *row) renderer(self fyne.CanvasObject) fyne.WidgetRenderer {
	return &parts{
		objects: fixed(r.label, r.input, r.remark, r.sign.Image, r.message),
		layout:  r.lay,
		min:     leastOf(r),
		refresh: func() {
			r.sign.Refresh()
			r.lay(r.Size())
			canvas.Refresh(self)
		},
	}
}

func (r *row) lay(size fyne.Size) {
	p := r.plan(size.Width)
	place(r.label, 0, 0, size.Width, p.labelH)
	place(r.input, -gap(r.inset), p.labelH, p.inputW, p.inputH)
	place(r.remark, p.remarkX, p.remarkY, p.remarkW, p.remarkH)
	r.sign.place(0, p.messageY, p.signSize)
	x := p.signSize + gap(5)
	place(r.message, x, p.messageY, fyne.Max(size.Width-x, 0), fyne.Max(size.Height-p.messageY, 0))
}
