package job

// Parse reads a job file without a shop and returns it with all defaults, or all that is
// wrong with it, in the order of the file. The job is nil where there are
// errors.
func Parse(name string, data []byte) (*Job, []Error) {
	j, errs := parse(Input{Job: File{name, data}})
	if len(errs) > 0 {
		return nil, sorted(errs)
	}
	return j, nil
}
