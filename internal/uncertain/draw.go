package uncertain

import "context"

// taskPoints is how many points a goroutine takes at a time: enough for the hand-over
// not to show, and few enough for all to end at about the same time.
const taskPoints = 4096

// drawer is what one goroutine needs to draw.
type drawer struct {
	model   func(x, y []float64)
	x, y    []float64
	keep    []int
	block   *block
	figures [][blockPoints]float64 // of the block, by figure kept
	finder  finder
}

func newDrawer(s *sampler, model func(x, y []float64), figures int, keep []int) *drawer {
	return &drawer{
		model:   model,
		x:       s.values(),
		y:       make([]float64, figures),
		keep:    keep,
		block:   s.newBlock(),
		figures: make([][blockPoints]float64, len(keep)),
	}
}

// run evaluates the model for the n points of the block.
func (d *drawer) run(varying []int, n int) {
	x, y, model, keep := d.x, d.y, d.model, d.keep // the compiler cannot know that the model leaves them alone
	columns, figures := d.block.columns[:len(varying)], d.figures[:len(keep)]
	for row := range min(n, blockPoints) {
		for k, i := range varying {
			x[i] = columns[k][row]
		}
		model(x, y)
		for j, figure := range keep {
			figures[j][row] = y[figure]
		}
	}
}

// draw takes the points from..to of every replicate. What a task finds is set down by
// its number and put together in that order, so that it does not matter who did it.
func (c *campaign) draw(ctx context.Context, from, to int) error {
	size := min(taskPoints, to-from)
	tasks := (to - from) / size // of each replicate
	found := make([][]moments, c.replicates*tasks)
	all := c.replicates * c.points
	done := c.before*all + c.replicates*from
	err := each(ctx, len(c.workers), len(found), func(worker, task int) {
		found[task] = c.task(ctx, c.workers[worker], task/tasks, from+task%tasks*size, size)
	}, func() {
		done += size
		if c.run.Progress != nil {
			c.run.Progress(done, c.passes*all)
		}
	})
	if err != nil {
		return err
	}
	for task, figures := range found {
		for j, m := range figures {
			c.parts[j][task/tasks].add(m)
		}
	}
	return nil
}

// task takes some points of one replicate, block by block, and returns the moments of
// each figure.
func (c *campaign) task(ctx context.Context, d *drawer, replicate, first, size int) []moments {
	found := make([]moments, len(d.keep))
	n := min(blockPoints, size)
	for end := first + size; first < end && ctx.Err() == nil; first += n {
		c.sampler.draw(d.block, replicate, 0, first, n)
		d.run(c.sampler.varying, n)
		for j := range d.keep {
			values := d.figures[j][:n]
			found[j].add(momentsOf(values))
			if j < c.storing {
				copy(c.stored[j][replicate*c.points+first:], values)
			}
		}
	}
	return found
}
