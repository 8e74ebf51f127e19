package report

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/assets"
	"fillwright/internal/bench"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

var samples = []string{"olive-stone-pla", "mussel-shell-petg"}

// required are the figures that every blend has in the sheet.
var required = []string{
	"density", "filler_mass_fraction", "filler_volume_fraction", "cost_per_kg", "cost_per_metre", "cost_per_spool",
	"cost_change_per_metre", "break_even_filler_price", "length_per_spool", "metres_per_kg", "melt_flow_factor",
	"melt_flow_factor_grains", "melt_flow_factor_water", "melt_flow_factor_oil", "blend_moisture",
}

func sample(t *testing.T, name string) project.Project {
	t.Helper()
	data, err := assets.Samples.ReadFile("samples/" + name + ".json")
	require.NoError(t, err)
	p, _, err := project.Decode(data)
	require.NoError(t, err)
	return p
}

// byCard is a sample whose powders were not looked at on the bench: the numbers
// are those of their cards.
func byCard(t *testing.T, name string) project.Project {
	t.Helper()
	p := sample(t, name)
	for i := range p.Materials {
		p.Materials[i].Powder = material.Powder{}
	}
	return p
}

// sheet is the calc sheet as another program reads it.
type sheet struct {
	Format  string
	Version int
	Spools  []spooled
	Blends  []struct {
		ID, Name string
		Figures  map[string]readFigure
		Notes    []readNote
		Limits   []readLimit
		Least    *readFigure
		Shares   []readShares
		Draws    int

		Winding map[string]readFigure
	}
	Notes []readNote
}

type readFigure struct {
	Value, Low, High *float64
	Unit, Basis      string

	Method string
	Bent   bool `json:"first_order_differs"`
}

type readLimit struct {
	ID                string
	Low, Likely, High *float64
	Unit, State       string
	Binding           bool
	Open, Advice      bool
	From              *float64
	First             *float64
	Allowed           *struct {
		Value, Low, High float64
		Unit             string
		Entered          bool
	}
	Figure, Field, Missing, Where string
}

type readShares struct {
	Target  string
	Defined float64
	Inputs  []struct {
		Input               string
		First, Total, Error float64
	}
}

type readNote struct {
	ID, Severity, Text, Action, Field string
	Figures                           []string
}

func calc(t *testing.T, p project.Project) ([]byte, sheet) {
	t.Helper()
	var out bytes.Buffer
	w := wording.New("en")
	require.NoError(t, CalcJSON(&out, bench.Evaluate(&p), nil, w))
	return out.Bytes(), read(t, out.Bytes(), w)
}

func read(t *testing.T, data []byte, w *wording.Words) sheet {
	t.Helper()
	assert.Empty(t, w.Missing())
	var s sheet
	require.NoError(t, json.Unmarshal(data, &s, json.MatchCaseInsensitiveNames(true), json.RejectUnknownMembers(true)))
	return s
}

func TestCalcJSONHoldsEveryFigure(t *testing.T) {
	for _, name := range samples {
		p := sample(t, name)
		_, s := calc(t, p)
		assert.Equal(t, "fillwright sheet", s.Format)
		assert.Equal(t, 1, s.Version)
		require.Len(t, s.Blends, len(p.Blends))
		for i, b := range s.Blends {
			assert.Equal(t, string(p.Blends[i].ID), b.ID)
			assert.Equal(t, p.Blends[i].Name, b.Name)
			assert.NotNil(t, b.Limits)
			for _, key := range required {
				f, is := b.Figures[key]
				require.True(t, is, "%s: %s", b.ID, key)
				assert.NotEmpty(t, f.Unit, key)
				assert.Contains(t, []string{"entered", "measured", "calibrated", "estimated"}, f.Basis, key)
			}
			checkNulls(t, b.ID, s, i)
		}
	}
}

// checkNulls asserts that the three numbers come together, in order, and that a
// figure without them is named by a note.
func checkNulls(t *testing.T, id string, s sheet, i int) {
	t.Helper()
	explained := map[string]bool{}
	for _, n := range s.Blends[i].Notes {
		for _, key := range n.Figures {
			explained[key] = true
		}
	}
	for key, f := range s.Blends[i].Figures {
		if f.Value == nil {
			assert.Nil(t, f.Low)
			assert.Nil(t, f.High)
			assert.True(t, explained[key], "%s: nothing says why %s is null", id, key)
			continue
		}
		require.NotNil(t, f.Low)
		require.NotNil(t, f.High)
		assert.True(t, *f.Low <= *f.Value && *f.Value <= *f.High, key)
	}
}

// Numbers of the samples by hand: 10 wt% of powder between 1.35 and 1.45 g/cm3 and 0.2 wt%
// of oil between 0.85 and 0.88 g/cm3 in PLA of 1.24 g/cm3; 25 phr are 20 wt%.
func TestCalcJSONHoldsTheNumbers(t *testing.T) {
	_, s := calc(t, byCard(t, samples[0]))
	density := s.Blends[2].Figures["density"]
	assert.InEpsilon(t, 1/(0.898/1.24+0.1/1.40+0.002/0.865), *density.Value, 1e-12)
	assert.Equal(t, "g/cm3", density.Unit)
	assert.Equal(t, "estimated", density.Basis)
	assert.InEpsilon(t, 10, *s.Blends[2].Figures["filler_mass_fraction"].Value, 1e-12)
	assert.Equal(t, "EUR/kg", s.Blends[2].Figures["cost_per_kg"].Unit)
	assert.InEpsilon(t, 335.284*1.75*1.75/3.0628, *s.Blends[0].Figures["length_per_spool"].Value, 1e-5)

	_, s = calc(t, sample(t, samples[1]))
	assert.InEpsilon(t, 20, *s.Blends[2].Figures["filler_mass_fraction"].Value, 1e-12)
	assert.Equal(t, "measured", s.Blends[1].Figures["density"].Basis)
	assert.Nil(t, s.Blends[2].Figures["melt_flow_factor"].Value, "for PETG there is no rate to estimate with")
}

// The figures of the bench in the samples, of which the numbers are worked out
// in bench and filler.
func TestCalcJSONCarriesTheBench(t *testing.T) {
	_, s := calc(t, sample(t, samples[0]))
	for key, unit := range map[string]string{
		"powder_moisture_wet_basis": "%", "drying_time_to_target": "h", "preparation_yield": "%", "prepared_cost_per_kg": "EUR/kg",
		"d10": "um", "d50": "um", "d90": "um", "top_size": "um", "grains_over_critical_per_metre": "1/m",
		"clog_chance_per_spool": "%", "packing_limit": "vol%",
	} {
		f, there := s.Blends[2].Figures[key]
		require.True(t, there, key)
		assert.Equal(t, unit, f.Unit, key)
		if key == "d10" {
			assert.Nil(t, f.Value, "it lies below the finest sieve, and a note says so")
			continue
		}
		require.NotNil(t, f.Value, key)
		_, there = s.Blends[0].Figures[key]
		assert.False(t, there, "%s: a blend without powder has none", key)
	}
	packing := s.Blends[2].Figures["packing_limit"]
	assert.Equal(t, "measured", packing.Basis)
}

// Olive 10 against Neat by hand: PLA at 18.90, powder at 3.53, oil at 14 a kilogram; 0.9 kW at
// 0.32/kWh and 2/h of work for 0.5 kg/h; 40 g at start-up, 120 g purged, 5 % scrap; 0.15/kg wear
// and 10 min more work a run.
func TestCalcJSONHoldsTheCosts(t *testing.T) {
	_, s := calc(t, byCard(t, samples[0]))
	conversion := (0.9*0.32 + 2) / 0.5
	plain, olive := 18.90+conversion, 0.898*18.90+0.1*3.53+0.002*14+conversion
	sameLength := 1.24 * (0.898/1.24 + 0.1/1.40 + 0.002/0.865)
	for key, want := range map[string]float64{
		"cost_per_kg":                      olive*1.16/0.95 + 0.15 + 2/6.0,
		"saving_per_spool":                 plain/0.95*sameLength - olive/0.95 - 0.15,
		"changeover_cost":                  olive * 0.12 / 0.95,
		"extra_cost_per_run":               olive*0.16/0.95 + 2/6.0 - plain*0.04/0.95*sameLength,
		"break_even_filler_price_long_run": ((plain/0.95*sameLength-0.15)*0.95 - (olive - 0.1*3.53)) / 0.1,
	} {
		f := s.Blends[2].Figures[key]
		require.NotNil(t, f.Value, key)
		assert.InEpsilon(t, want, *f.Value, 1e-12, key)
	}
	assert.Equal(t, "EUR", s.Blends[2].Figures["extra_cost_per_run"].Unit)
	assert.Zero(t, *s.Blends[0].Figures["extra_cost_per_run"].Value)
}

func TestCalcJSONOfAnUnfinishedProject(t *testing.T) {
	p := sample(t, samples[0])
	p.Materials[0].Density = quantity.Of[quantity.Density]{}
	p.Blends[2].Parts[1].Amount = project.Amount{}
	p.Cost.Labour = quantity.Of[quantity.PricePerTime]{}
	data, s := calc(t, p)
	for i, b := range s.Blends {
		checkNulls(t, b.ID, s, i)
		for _, key := range required {
			assert.Contains(t, b.Figures, key)
		}
	}
	assert.NotContains(t, string(data), "NaN")
	assert.Nil(t, s.Blends[0].Figures["length_per_spool"].Value)
	assert.Equal(t, "stop", s.Blends[0].Notes[0].Severity, "worst first")
	assert.Equal(t, "/materials/0/density", s.Blends[0].Notes[0].Field)

	empty := project.New("EUR")
	data, s = calc(t, empty)
	assert.Contains(t, string(data), `"blends": []`)
	assert.NotEmpty(t, s.Notes)
}

func TestCalcJSONIsTheSameEveryTime(t *testing.T) {
	p := sample(t, samples[0])
	first, _ := calc(t, p)
	for range 5 {
		again, _ := calc(t, p)
		assert.Equal(t, string(first), string(again))
	}
	assert.True(t, bytes.HasSuffix(first, []byte("}\n")))
	assert.True(t, jsontext.Value(first).IsValid())
	snake := regexp.MustCompile(`^[a-z][a-z0-9]*(_[a-z0-9]+)*$`)
	for _, match := range regexp.MustCompile(`"([^"]*)":`).FindAllStringSubmatch(string(first), -1) {
		assert.Regexp(t, snake, match[1])
	}
}

func TestCalcTableHoldsEveryFigure(t *testing.T) {
	for _, lang := range []string{"en", "de"} { // the second writes a decimal comma
		w := wording.New(lang)
		for _, name := range samples {
			p := sample(t, name)
			s := bench.Evaluate(&p)
			var out bytes.Buffer
			require.NoError(t, CalcTable(&out, p.Title, s, w))
			table := out.String()
			assert.True(t, strings.HasPrefix(table, p.Title+"\n"))
			for _, key := range required {
				assert.Equal(t, len(p.Blends), strings.Count(table, "\n  "+w.Text("figure."+key)+"  "), key)
			}
			for i := range s.Blends {
				assert.Contains(t, table, "\n"+s.Blends[i].Name)
				for _, n := range s.Blends[i].Notes {
					assert.Contains(t, table, w.Say(n.Message()))
				}
			}
			assert.Contains(t, table, w.Say("calc.reference", map[string]any{"Blend": p.Blends[0].Name}))
			assert.NotContains(t, table, "NaN")
			assert.NotContains(t, table, "[note.")
			assert.Empty(t, w.Missing())
		}
	}
	p := sample(t, samples[0])
	var out bytes.Buffer
	require.NoError(t, CalcTable(&out, p.Title, bench.Evaluate(&p), wording.New("de")))
	assert.Contains(t, out.String(), "1,253", "density of Olive 10 with a decimal comma")
}

func TestCalcTableOfWhatIsNotKnown(t *testing.T) {
	p := byCard(t, samples[0])
	p.Materials[1].Moisture = quantity.Of[quantity.Fraction]{}
	p.Materials[2].Density = quantity.Of[quantity.Density]{}
	var out bytes.Buffer
	require.NoError(t, CalcTable(&out, p.Title, bench.Evaluate(&p), wording.New("en")))
	assert.Regexp(t, `\n +Density +— +g/cm³ +estimated\n`, out.String())
	assert.Regexp(t, `122.1 g +— +Olive stone flour`, out.String(), "dry mass without the mass to weigh")
}

// Each number of the check list, against the sheet.
func TestPlanCSV(t *testing.T) {
	w := wording.New("en")
	for _, name := range samples {
		p := sample(t, name)
		s := &bench.Evaluate(&p).Plan
		var out bytes.Buffer
		require.NoError(t, PlanCSV(&out, s, w))
		assert.Equal(t, strings.Count(out.String(), "\n"), strings.Count(out.String(), "\r\n"), "RFC 4180: lines end in CRLF")
		rows, err := csv.NewReader(&out).ReadAll() // refuses rows of other lengths
		require.NoError(t, err)
		require.Len(t, rows, len(s.Runs)+2, "a head, the runs, the total")
		head := rows[0]
		require.Len(t, head, 6+len(s.Budget)+3)
		assert.Equal(t, []string{"Order", "Day", "Spool", "Filler, wt%", "Replicate", "Purge first"}, head[:6])
		for i, r := range s.Runs {
			row := rows[i+1]
			assert.Equal(t, strconv.Itoa(i+1), row[0])
			assert.Equal(t, strconv.Itoa(r.Day), row[1])
			assert.Equal(t, r.Spool, row[2])
			assert.Contains(t, []string{"0", "5", "10", "20"}, row[3], "no digits left over from wt%")
			assert.Equal(t, map[bool]string{true: "yes", false: ""}[r.Change], row[5])
			for j, part := range r.Parts {
				assert.InDelta(t, part.WeighG, number(t, row[6+j]), 0.05001)
			}
			assert.Equal(t, "[ ]", row[len(row)-2])
		}
		total := rows[len(rows)-1]
		for j, b := range s.Budget {
			assert.Equal(t, "Weigh "+b.Name+", g", head[6+j])
			assert.InDelta(t, b.WeighG, number(t, total[6+j]), 0.05001)
		}
	}
	assert.Empty(t, w.Missing())
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	require.NoError(t, err)
	return v
}

func TestContentOfATrial(t *testing.T) {
	for want, v := range map[string]float64{"7": 0.07 * 100, "29": 0.29 * 100, "0": 0, "2.5": 2.5, "0.125": 0.125} {
		assert.Equal(t, want, content(v))
	}
}

func TestCellsAreNoFormulas(t *testing.T) {
	for _, cell := range []string{"=1+1", "+1", "-1", "@SUM(A1)", "\tx", "\rx", "\n=x"} {
		assert.Equal(t, "'"+cell, inert(cell))
	}
	for _, cell := range []string{"", "x", "1.5", "Weigh =1, g", "[ ]"} {
		assert.Equal(t, cell, inert(cell))
	}
	// through the whole list, with quotes, commas and a formula in a name
	p := sample(t, samples[0])
	p.Materials[1].Name = `=cmd|'/c calc'!A1,"x"`
	var out bytes.Buffer
	require.NoError(t, PlanCSV(&out, &bench.Evaluate(&p).Plan, wording.New("en")))
	rows, err := csv.NewReader(&out).ReadAll()
	require.NoError(t, err)
	for _, row := range rows {
		for _, cell := range row {
			if cell != "" {
				assert.NotContains(t, "=+-@\t\r\n", cell[:1])
			}
		}
	}
	assert.Contains(t, rows[0], `Weigh =cmd|'/c calc'!A1,"x", g`)
}

// failing takes some bytes and then no more, as a full disk does.
type failing struct{ left int }

var errFull = errors.New("full")

func (f *failing) Write(p []byte) (int, error) {
	if len(p) > f.left {
		return 0, errFull
	}
	f.left -= len(p)
	return len(p), nil
}

func TestReportsTellWhenTheyCannotBeWritten(t *testing.T) {
	p := sample(t, samples[0])
	s, w := bench.Evaluate(&p), wording.New("en")
	for name, write := range map[string]func(io.Writer) error{
		"table": func(out io.Writer) error { return CalcTable(out, p.Title, s, w) },
		"JSON":  func(out io.Writer) error { return CalcJSON(out, s, nil, w) },
		"CSV":   func(out io.Writer) error { return PlanCSV(out, &s.Plan, w) },
	} {
		var whole bytes.Buffer
		require.NoError(t, write(&whole))
		for _, left := range []int{0, whole.Len() / 2, whole.Len() - 1} {
			assert.ErrorIs(t, write(&failing{left}), errFull, "%s after %d bytes", name, left)
		}
		assert.NoError(t, write(&failing{whole.Len()}), name)
	}
}

// A material without a name is called by its ID, and is not taken for the total.
func TestNamelessMaterial(t *testing.T) {
	p := sample(t, samples[0])
	for i := range p.Materials {
		p.Materials[i].Name = ""
	}
	p.Materials = append(p.Materials, material.Material{ID: "spare", Kind: material.Polymer})
	var out bytes.Buffer
	require.NoError(t, CalcTable(&out, "", bench.Evaluate(&p), wording.New("en")))
	assert.Contains(t, out.String(), "olive-stone-flour")
	assert.Equal(t, len(p.Blends), strings.Count(out.String(), "  total\n"))
}
