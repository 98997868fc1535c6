package sheet

import (
	"math"
	"slices"
	"sort"

	"fairlead/schema/sorting"
)

// lay puts the blocks on pages. What stays fills the first page in its order;
// what moves follows in two columns while there is room, the least urgent giving
// way first; the rest goes to continuation pages.
func lay(s *Sheet) []Page {
	width := s.Paper.width()
	room := s.room()
	var pages []Page
	page := Page{}
	end := func() {
		pages = append(pages, page)
		page = Page{}
	}
	blocks := make([]*Block, len(s.Blocks))
	for i := range s.Blocks {
		blocks[i] = &s.Blocks[i]
	}
	for _, band := range lowest(blocks, width, room) {
		for {
			h := band.height(width)
			left := room - page.Height
			if h <= left {
				page.Bands = append(page.Bands, band)
				page.Height += h
				break
			}
			// Only where what stays is more than a page: cut the band at the foot.
			now, later, ok := band.split(width, left)
			if ok {
				page.Bands = append(page.Bands, now)
				page.Height += now.height(width)
				band = later
			}
			if len(pages) == 0 {
				page.Cut = append(page.Cut, band.titles()...)
			}
			if len(page.Bands) == 0 {
				page.Bands, page.Height = append(page.Bands, band), h
				end()
				break
			}
			end()
		}
	}
	moving := moving(blocks)
	if len(pages) > 0 {
		moving = cardFirst(moving)
	}
	stay, rest := share(moving, width, room-page.Height)
	if len(stay.Columns) > 0 {
		page.Bands = append(page.Bands, stay)
		page.Height += stay.height(width)
	}
	end()
	last := len(pages) - 1
	pages = append(pages, continuation(rest, width, room)...)
	for _, p := range pages[last+1:] {
		for _, b := range p.Bands {
			for _, c := range b.Columns {
				for _, bl := range c.Blocks {
					if bl.Portion == 0 {
						pages[last].Overleaf = append(pages[last].Overleaf, bl.Title)
					}
				}
			}
		}
	}
	for i := range last {
		for _, p := range pages[i+1 : last+1] {
			for _, b := range p.Bands {
				pages[i].Overleaf = append(pages[i].Overleaf, b.titles()...)
			}
		}
		pages[i].Overleaf = append(pages[i].Overleaf, pages[last].Overleaf...)
	}
	return pages
}

// excess is how much higher what must stand on the first page is than the room
// for it, in mm; it fits at 0 and below.
func excess(staying []*Block, width, room float64) float64 {
	sum := 0.0
	for _, b := range lowest(staying, width, room) {
		sum += b.height(width)
	}
	return sum - room
}

// spare moves lines of the block on what matters at this stage overleaf, from the
// first on, until the block is lower by that much, in mm. Its lines begin with
// what was done, which is told in its own block too; unless all may go, no others
// move. What is set apart, the cautions, stays. enough is false where it cannot be
// that much lower.
func (bl *Block) spare(much, width float64, all bool) (short, rest *Block, enough bool) {
	short, rest = bl.with(nil), bl.with(nil)
	rest.ID, rest.Title, rest.Stays, rest.Keep = bl.ID+"-more", "More at this stage", false, 10
	was := bl.Height(width)
	for n, l := range bl.Lines {
		if l.Frame || !all && !l.Done {
			break
		}
		short.Lines, rest.Lines = bl.Lines[n+1:], bl.Lines[:n+1]
		if len(short.Lines) > 0 && short.Lines[0].Frame {
			short.Bare = true // the cautions say themselves what they are
		}
		now := 0.0
		if len(short.Lines) > 0 {
			now = short.Height(width)
		}
		if was-now >= much {
			return short, rest, true
		}
	}
	return short, rest, false
}

// lowest sets what stays so that the page is lowest: whom to call over the whole
// width, or below the worries, or below the targets, and the worries as wide as
// serves.
func lowest(blocks []*Block, width, room float64) []Band {
	var best []Band
	least := math.Inf(1)
	for _, where := range []struct {
		strip int
		right bool
	}{{0, false}, {1, false}, {1, true}} {
		set := slices.Clone(blocks)
		for i, bl := range set {
			if bl.ID == "call" {
				moved := *bl
				moved.Strip, moved.Right = where.strip, where.right
				set[i] = &moved
			}
		}
		bands := staying(set)
		sum := 0.0
		for i, b := range bands {
			h := b.height(width)
			if b.Columns[0].Share == worryShares[0] {
				for _, share := range worryShares[1:] {
					other := Band{[]Column{{share, b.Columns[0].Blocks}, {100 - share, b.Columns[1].Blocks}}}
					if lower := other.height(width); lower < h {
						bands[i], h = other, lower
					}
				}
			}
			sum += h
		}
		if sum < least {
			best, least = bands, sum
		}
	}
	if least > room {
		for i, b := range best {
			if b.Columns[0].Share == mapShare {
				best[i] = Band{[]Column{{mapNarrow, b.Columns[0].Blocks}, {100 - mapNarrow, b.Columns[1].Blocks}}}
			}
		}
	}
	return best
}

// worryShares are the widths the worries may take beside the targets; the style
// sheet has a class for each.
var worryShares = []int{41, 37, 45, 49}

// mapShare is the width of the map beside the list; mapNarrow its width where
// only that lets the list stay on the first page: a large map is read from
// farther away.
const (
	mapShare  = 30
	mapNarrow = 27
)

// shareOf is the part of the width that the left side of a strip takes.
func shareOf(strip int) int {
	if strip == 1 {
		return worryShares[0]
	}
	return mapShare
}

// staying gathers the blocks that never move into bands: blocks of one strip
// stand side by side, the others over the whole width.
func staying(blocks []*Block) []Band {
	bands := make([]Band, 0, len(blocks))
	columns := make([]Column, 0, len(blocks)) // room for those over the whole width
	strip := 0
	for i, bl := range blocks {
		if !bl.Stays {
			continue
		}
		if bl.Strip == 0 {
			columns = append(columns, Column{100, blocks[i : i+1 : i+1]})
			bands = append(bands, Band{columns[len(columns)-1:]})
			strip = 0
			continue
		}
		if bl.Strip != strip {
			strip = bl.Strip
			bands = append(bands, Band{[]Column{{Share: shareOf(strip)}, {Share: 100 - shareOf(strip)}}})
		}
		side := 0
		if bl.Right {
			side = 1
		}
		c := &bands[len(bands)-1].Columns[side]
		c.Blocks = append(c.Blocks, bl)
	}
	return bands
}

func moving(blocks []*Block) []*Block {
	var out []*Block
	for _, bl := range blocks {
		if !bl.Stays {
			out = append(out, bl)
		}
	}
	return out
}

// share finds what fits below in two columns: all of it, or all but the least
// urgent, and so on.
func share(blocks []*Block, width, room float64) (Band, []*Block) {
	kept := slices.Clone(blocks)
	for len(kept) > 0 {
		if band, ok := columns(kept, width, room); ok {
			return band, without(blocks, kept)
		}
		least := 0
		for i, bl := range kept {
			if bl.Keep < kept[least].Keep {
				least = i
			}
		}
		kept = append(kept[:least:least], kept[least+1:]...)
	}
	return Band{}, blocks
}

// titles are the titles of the blocks of a band.
func (b Band) titles() []string {
	var out []string
	for _, c := range b.Columns {
		for _, bl := range c.Blocks {
			out = append(out, bl.Title)
		}
	}
	return out
}

func without(all, some []*Block) []*Block {
	var out []*Block
	for _, bl := range all {
		if !slices.Contains(some, bl) {
			out = append(out, bl)
		}
	}
	return out
}

// columns sets blocks in two columns in their order, at the cut that makes the
// band lowest; ok is false if it is higher than the room.
func columns(blocks []*Block, width, room float64) (Band, bool) {
	half := (width - Gutter) / 2
	heights := make([]float64, len(blocks))
	total := 0.0
	for i, bl := range blocks {
		heights[i] = bl.Height(half)
		total += heights[i]
	}
	cutAt, lowest, sum := 0, total, 0.0
	for i, h := range heights {
		sum += h
		if m := max(sum, total-sum); m < lowest {
			cutAt, lowest = i+1, m
		}
	}
	if lowest > room {
		return Band{}, false
	}
	if cutAt == 0 || cutAt == len(blocks) {
		band := Band{[]Column{{100, blocks}}}
		return band, band.height(width) <= room
	}
	return Band{[]Column{{50, blocks[:cutAt]}, {50, blocks[cutAt:]}}}, true
}

// cardFirst puts the card of emergency doses first on a continuation page: it
// must be found without looking.
func cardFirst(blocks []*Block) []*Block {
	out := slices.Clone(blocks)
	sorting.By(out, func(a, b *Block) int {
		switch {
		case a.ID == b.ID:
			return 0
		case a.ID == "emergency":
			return -1
		case b.ID == "emergency":
			return 1
		}
		return 0
	})
	return out
}

// continuation fills pages of two columns with what moved, cutting a block
// between its lines where a column ends.
func continuation(blocks []*Block, width, room float64) []Page {
	if len(blocks) == 0 {
		return nil
	}
	blocks = cardFirst(blocks)
	if band, ok := columns(blocks, width, room); ok {
		return []Page{{Bands: []Band{band}, Height: band.height(width)}}
	}
	half := (width - Gutter) / 2
	var pages []Page
	cols := [2][]*Block{}
	at, used := 0, 0.0
	next := func() {
		at, used = at+1, 0
		if at == 2 {
			band := Band{[]Column{{50, cols[0]}, {50, cols[1]}}}
			pages = append(pages, Page{Bands: []Band{band}, Height: band.height(width)})
			cols, at = [2][]*Block{}, 0
		}
	}
	for _, bl := range blocks {
		for {
			if h := bl.Height(half); used+h <= room {
				cols[at] = append(cols[at], bl)
				used += h
				break
			}
			now, later, ok := bl.split(half, room-used)
			if !ok {
				if used == 0 { // one line higher than a page: it stands as it is
					cols[at] = append(cols[at], bl)
					next()
					break
				}
				next()
				continue
			}
			cols[at] = append(cols[at], now)
			next()
			bl = later
		}
	}
	if at > 0 || len(cols[0]) > 0 {
		band := Band{[]Column{{50, cols[0]}, {50, cols[1]}}}
		if len(cols[1]) == 0 {
			band = Band{[]Column{{100, cols[0]}}}
		}
		pages = append(pages, Page{Bands: []Band{band}, Height: band.height(width)})
	}
	return pages
}

// split cuts a block between two lines so that the first part is no higher than
// the room; ok is false if not even one line fits.
func (bl *Block) split(width, room float64) (now, later *Block, ok bool) {
	if bl.Form == Drawing || bl.Form == Clock || bl.Form == Boxes || len(bl.Lines) < 2 {
		return bl, bl, false
	}
	n := sort.Search(len(bl.Lines)-1, func(n int) bool { return bl.with(bl.Lines[:n+1]).Height(width) > room })
	if n == 0 {
		return bl, bl, false
	}
	later = bl.with(bl.Lines[n:])
	later.Portion++
	return bl.with(bl.Lines[:n]), later, true
}

// with is the block with other lines.
func (bl *Block) with(lines []Line) *Block {
	other := *bl
	other.Lines, other.counted, other.laid, other.heights = lines, nil, false, nil
	return &other
}

// split cuts the columns of a band at the foot of a page.
func (b Band) split(width, room float64) (now, later Band, ok bool) {
	for i, c := range b.Columns {
		w := b.ColumnWidth(i, width)
		first, second := Column{Share: c.Share}, Column{Share: c.Share}
		used := 0.0
		for j, bl := range c.Blocks {
			h := bl.Height(w)
			if used+h <= room {
				first.Blocks = append(first.Blocks, bl)
				used += h
				continue
			}
			if head, tail, cut := bl.split(w, room-used); cut {
				first.Blocks = append(first.Blocks, head)
				second.Blocks = append(second.Blocks, tail)
			} else {
				second.Blocks = append(second.Blocks, bl)
			}
			second.Blocks = append(second.Blocks, c.Blocks[j+1:]...)
			break
		}
		if len(first.Blocks) > 0 {
			ok = true
		}
		now.Columns = append(now.Columns, first)
		later.Columns = append(later.Columns, second)
	}
	return now, later, ok
}
