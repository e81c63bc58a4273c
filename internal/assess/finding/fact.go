package finding

// Fact is something a job can wait for that is no number against a limit.
type Fact struct {
	ID     string
	By     Trade // that made it
	Title  string
	Status Status
	Why    string
	Text   string
}
