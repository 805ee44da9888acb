package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"ringwise/cmd/ringwise/internal/score"
)

// A studio renders runs of scenes into folders of their own.
type studio struct {
	root    string // of the module
	folder  string // in which the runs' folders lie
	most    int    // scenes of a run, 0 for all
	version string // of the generator
}

// newStudio finds out what generator would make the scenes.
func newStudio(root, folder string, most int) (*studio, error) {
	version, err := versionOf(filepath.Join(root, "samples", "scene"))
	if err != nil {
		return nil, err
	}
	return &studio{root, folder, most, version}, nil
}

// versionOf is a sum over the sources of the generator.
func versionOf(folder string) (string, error) {
	files, err := filepath.Glob(filepath.Join(folder, "*.go"))
	if err != nil {
		return "", err
	}
	sum := sha256.New()
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		text, err := os.ReadFile(file)
		if err != nil {
			return "", err
		}
		fmt.Fprintf(sum, "%s %d\n%s", filepath.Base(file), len(text), text)
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}

// set renders what is missing of a set's scenes and returns what is known of
// them.
func (s *studio) set(ctx context.Context, of set) (score.Truth, error) {
	var all score.Truth
	for _, r := range of.runs {
		truth, err := s.run(ctx, r)
		if err != nil {
			return score.Truth{}, err
		}
		all.Photos = append(all.Photos, truth.Photos...)
	}
	all.SetName(of.name)
	return all, nil
}

// run renders what is missing of a run. Scenes rendered before are used again,
// unless by another version of the generator: their truth would be of other
// scenes.
func (s *studio) run(ctx context.Context, r run) (score.Truth, error) {
	r = r.fewer(s.most)
	folder := filepath.Join(s.folder, r.folder())
	if err := s.claim(folder); err != nil {
		return score.Truth{}, err
	}
	generator := exec.CommandContext(ctx, "go", "run", "./samples/scene", "-resume", "-out", folder,
		"-style", r.style, "-seed", fmt.Sprint(r.first), "-count", fmt.Sprint(r.count),
		"-objects", fmt.Sprint(r.objects), "-size", fmt.Sprint(r.size))
	generator.Dir, generator.Stdout, generator.Stderr = s.root, os.Stderr, os.Stderr
	if err := generator.Run(); err != nil {
		return score.Truth{}, fmt.Errorf("could not render the %v: %w", r, err)
	}
	return score.LoadTruth(filepath.Join(folder, "truth.json"))
}

// folder names the run's folder.
func (r run) folder() string {
	name := fmt.Sprintf("%s-%d", r.style, r.first)
	if r.size != 1 {
		name += fmt.Sprintf("-times-%g", r.size)
	}
	return name
}

// claim marks a folder as made by this generator, or refuses one that another
// made. A folder without a mark is taken as it is.
func (s *studio) claim(folder string) error {
	mark := filepath.Join(folder, "generator")
	made, err := os.ReadFile(mark)
	switch {
	case err == nil && string(bytes.TrimSpace(made)) != s.version:
		return fmt.Errorf("the scenes in %s were made by another version of samples/scene: delete the folder to render them again, or the file %s if they would come out the same", folder, mark)
	case err == nil:
		return nil
	case !errors.Is(err, fs.ErrNotExist):
		return err
	}
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	return os.WriteFile(mark, []byte(s.version+"\n"), 0o644)
}
