//go:build !unix

package main

func bearLimits() {}
