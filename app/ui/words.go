package ui

import (
	"fmt"
	"strconv"

	"fairlead/handover/lines"
	"fairlead/schema"
)

func itoa(n int) string { return strconv.Itoa(n) }

func clockShown(hour, minute int) string { return fmt.Sprintf("%02d:%02d", hour, minute) }

// offsetShown words an offset from UTC.
func offsetShown(minutes int) string {
	sign := "+"
	if minutes < 0 {
		sign, minutes = "-", -minutes
	}
	return fmt.Sprintf("UTC%s%d:%02d", sign, minutes/60, minutes%60)
}

// itemName words an item by what it is, where, and how large.
func itemName(it schema.Item) string {
	if schema.ItemKindNamed(it.Kind) == nil {
		return "An item this version does not know"
	}
	return lines.FullName(it)
}
