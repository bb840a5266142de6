//go:build mutation

package tryout_test

const everySlip = true
