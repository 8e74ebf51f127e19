package pane

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/figure"
)

// shownInputs is how many inputs of a limit are told.
const shownInputs = 4

// limitInputs are the inputs on which the limit in detail hangs.
func (p *Limits) limitInputs() []bench.InputShare {
	l := p.shown()
	if l == nil {
		return nil
	}
	list := p.view.Sheet.LimitInputs(p.view.Chosen, l.ID)
	return list[:min(len(list), shownInputs)]
}

// inputWords say what the list of inputs is, where there are any.
func (p *Limits) inputWords() []string {
	if len(p.limitInputs()) == 0 {
		return nil
	}
	return []string{p.text("pane.limits.hangs_on")}
}

// inputFacts name them with their shares.
func (p *Limits) inputFacts() []fact {
	var list []fact
	for _, in := range p.limitInputs() {
		list = append(list, fact{
			label: figure.InputName(p.view.Project, in.Pointer, p.words()),
			value: p.words().Say("pane.limits.percent", map[string]any{"Share": digits(100*in.Total, "%", 2)}),
		})
	}
	return list
}

// toInput leads to the field that moves the limit in detail most.
func (p *Limits) toInput() fyne.CanvasObject {
	button := widget.NewButton(p.text("pane.limits.to_input"), func() {
		if list := p.limitInputs(); len(list) > 0 {
			p.desk.Lead(list[0].Pointer)
		}
	})
	row, there := control.NewColumn(0), false
	p.remarks = append(p.remarks, func() {
		list := p.limitInputs()
		now := len(list) > 0 && strings.HasPrefix(list[0].Pointer, "/") // else it is a constant of a model
		if now == there {
			return
		}
		there = now
		row.SetObjects()
		if now {
			row.SetObjects(container.NewHBox(button))
		}
	})
	return row
}
