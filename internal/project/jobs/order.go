package jobs

// order is which jobs wait for which.
type order struct {
	number map[string]int // of each id that was named
	needs  [][]int
	seen   []int // by which search each was last come by
	search int
}

// order is what the jobs say they wait for.
func (b list) order() *order {
	o := &order{number: make(map[string]int, len(b))}
	for _, j := range b {
		for _, need := range j.Needs {
			o.wait(j.ID, need)
		}
	}
	return o
}

// wait notes that id waits for need.
func (o *order) wait(id, need string) {
	i := o.of(id)
	o.needs[i] = append(o.needs[i], o.of(need))
}

func (o *order) of(id string) int {
	i, known := o.number[id]
	if !known {
		i = len(o.needs)
		o.number[id] = i
		o.needs, o.seen = append(o.needs, nil), append(o.seen, 0)
	}
	return i
}

// reaches reports whether from waits for to, at any distance.
func (o *order) reaches(from, to string) bool {
	i, known := o.number[from]
	j, named := o.number[to]
	if !known || !named {
		return false
	}
	o.search++
	return o.leads(i, j)
}

// leads is reaches among those that this search has not come by yet.
func (o *order) leads(from, to int) bool {
	if o.seen[from] == o.search {
		return false
	}
	o.seen[from] = o.search
	for _, n := range o.needs[from] {
		if n == to || o.leads(n, to) {
			return true
		}
	}
	return false
}
