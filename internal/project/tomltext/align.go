package tomltext

import "fmt"

// equal reports whether two nodes mean the same; nil equals nil only.
func equal(a, b *Node) bool {
	if a == nil || b == nil {
		return a == b
	}
	return sameBut(a, b, nil, nil)
}

// entries reports whether n is a list that holds tables only. An empty list is
// one, whichever way it is written.
func entries(n *Node) bool {
	if n.Kind != Array && n.Kind != TableArray {
		return false
	}
	for _, c := range n.Children {
		if c.Kind != Table {
			return false
		}
	}
	return true
}

// mark is what an entry of a list is known by: its id or its name, "" when it
// has neither.
func mark(n *Node) string {
	for _, key := range [...]string{"id", "name"} {
		if c := n.Child(key); c != nil && c.Kind == String {
			return key + ":" + c.Value.(string)
		}
	}
	return ""
}

// align pairs the entries of two states of a list: for each of a its place in
// b, or -1. Entries that are known by a name are paired by it, others when they
// are equal and keep their order; what then is left over between two pairs is
// paired in order, as an entry that was changed where it stands.
func align(a, b []*Node) []int {
	to := make([]int, len(a))
	taken := make([]bool, len(b))
	for i := range to {
		to[i] = -1
	}
	byMark, twice := map[string]int{}, map[string]bool{}
	for j, n := range b {
		m := mark(n)
		if _, ok := byMark[m]; ok {
			twice[m] = true
		}
		byMark[m] = j
	}
	seen := map[string]bool{}
	for i, n := range a {
		m := mark(n)
		if j, ok := byMark[m]; ok && m != "" && !twice[m] && !seen[m] {
			to[i], taken[j] = j, true
		}
		seen[m] = true
	}
	pairEqual(a, b, to, taken)
	pairBetween(to, taken)
	return to
}

// maxPairs bounds the work of comparing two lists.
const maxPairs = 1 << 18

// pairEqual pairs the longest run of equal entries that keeps their order among
// those that are not paired yet.
func pairEqual(a, b []*Node, to []int, taken []bool) {
	var left, right []int
	for i := range a {
		if to[i] < 0 {
			left = append(left, i)
		}
	}
	for j := range b {
		if !taken[j] {
			right = append(right, j)
		}
	}
	if len(left)*len(right) > maxPairs {
		return
	}
	x, y := prints(a, left), prints(b, right)
	length := make([][]int, len(left)+1)
	for i := range length {
		length[i] = make([]int, len(right)+1)
	}
	for i := len(left) - 1; i >= 0; i-- {
		for j := len(right) - 1; j >= 0; j-- {
			length[i][j] = max(length[i+1][j], length[i][j+1])
			if x[i] == y[j] {
				length[i][j] = max(length[i][j], length[i+1][j+1]+1)
			}
		}
	}
	for i, j := 0, 0; i < len(left) && j < len(right); {
		switch {
		case x[i] == y[j] && length[i][j] == length[i+1][j+1]+1:
			to[left[i]], taken[right[j]] = right[j], true
			i, j = i+1, j+1
		case length[i+1][j] >= length[i][j+1]:
			i++
		default:
			j++
		}
	}
}

// prints spells what nodes mean, so that equal ones are quickly told.
func prints(nodes []*Node, at []int) []string {
	out := make([]string, len(at))
	for i, k := range at {
		out[i] = fmt.Sprintf("%#v", plain(nodes[k])) // maps print in the order of their keys
	}
	return out
}

// pairBetween pairs in order what stands between two pairs.
func pairBetween(to []int, taken []bool) {
	next := 0
	for i := range to {
		if to[i] >= 0 {
			next = to[i] + 1
			continue
		}
		if next < len(taken) && !taken[next] {
			to[i], taken[next] = next, true
			next++
		}
	}
}
