// Command pack writes the published daily growth tables in the compact form that
// package growth embeds: for each table and column the second differences of the
// figures as integers, in variable-length bytes. Run it from package growth's
// folder; a test there holds every figure against the published table.
package main

import (
	"bufio"
	"encoding/binary"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
)

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, "pack:", err)
		os.Exit(1)
	}
}

func run() error {
	var out []byte
	for _, name := range []string{"who-weight-for-age.tsv", "who-length-for-age.tsv"} {
		columns, err := read("../../../testdata/growth/" + name)
		if err != nil {
			return err
		}
		for _, sex := range []string{"1", "2"} {
			for _, c := range columns[sex] {
				out = binary.AppendUvarint(out, uint64(len(c)))
				var last, step int64
				for _, v := range c {
					out = binary.AppendVarint(out, v-last-step)
					step, last = v-last, v
				}
			}
		}
	}
	return os.WriteFile("who.bin", out, 0o644)
}

// read gives L × 10⁴, M × 10⁴ and S × 10⁵ by sex and day.
func read(path string) (map[string][3][]int64, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	out := map[string][3][]int64{}
	for s := bufio.NewScanner(f); s.Scan(); {
		cells := strings.Split(s.Text(), "\t")
		if strings.HasPrefix(cells[0], "#") || cells[0] == "sex" {
			continue
		}
		c := out[cells[0]]
		if day, err := strconv.Atoi(cells[1]); err != nil || day != len(c[0]) {
			return nil, fmt.Errorf("%s: day %s out of order", path, cells[1])
		}
		for i, scale := range []float64{1e4, 1e4, 1e5} {
			v, err := strconv.ParseFloat(cells[2+i], 64)
			if err != nil {
				return nil, err
			}
			c[i] = append(c[i], int64(math.Round(v*scale)))
		}
		out[cells[0]] = c
	}
	return out, nil
}
