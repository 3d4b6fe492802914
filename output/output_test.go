package output

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"sync"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/planner/plan"
)

// ends is a disk whose n-th call is the last one: the program is killed in it, or it fails.
type ends struct {
	files
	left   int
	how    string // killed, failed, or full: writing fails for want of room
	apart  bool   // names cannot be exchanged
	inside bool   // the last call is done, or half done, before the program is killed
	done   bool   // the call that ends was reached
}

var errKilled = errors.New("killed")

// call counts one; do is the call itself, half what is left when it is cut off.
func (e *ends) call(do, half func() error) error {
	if e.done && e.how == "killed" {
		panic(errKilled)
	}
	if e.how == "full" {
		return do()
	}
	if e.left--; e.left != 0 {
		return do()
	}
	e.done = true
	if e.how != "killed" {
		if half != nil {
			_ = half()
		}
		return syscall.EIO
	}
	if e.inside && half != nil {
		_ = half()
	} else if e.inside {
		_ = do()
	}
	panic(errKilled)
}

func (e *ends) MkDir(dir string, m os.FileMode) error {
	return e.call(func() error { return e.files.MkDir(dir, m) }, nil)
}
func (e *ends) MkDirs(dir string) error {
	return e.call(func() error { return e.files.MkDirs(dir) }, nil)
}
func (e *ends) Chmod(n string, m os.FileMode) error {
	return e.call(func() error { return e.files.Chmod(n, m) }, nil)
}
func (e *ends) Rename(a, b string) error {
	return e.call(func() error { return e.files.Rename(a, b) }, nil)
}
func (e *ends) Remove(n string) error { return e.call(func() error { return e.files.Remove(n) }, nil) }
func (e *ends) Sync(n string) error   { return e.call(func() error { return nil }, nil) }

func (e *ends) Exchange(a, b string) error {
	if e.apart {
		return errNoExchange
	}
	return e.call(func() error { return e.files.Exchange(a, b) }, nil)
}

func (e *ends) Write(n string, data []byte, m os.FileMode) error {
	if e.how == "full" && e.left > 1 { // room for so many bytes
		if e.left -= len(data); e.left > 1 {
			return unsynced(n, data, m)
		}
		e.done = true
		_ = unsynced(n, data[:len(data)/2], m)
		return syscall.ENOSPC
	}
	if e.how == "full" {
		e.done = true
		return syscall.ENOSPC
	}
	return e.call(func() error { return unsynced(n, data, m) },
		func() error { return unsynced(n, data[:len(data)/2], m) })
}

// unsynced writes a new file and leaves it to the system when it goes to the medium.
func unsynced(name string, data []byte, mode os.FileMode) error {
	if exists(name) {
		return fs.ErrExist
	}
	return os.WriteFile(name, data, mode)
}

// planned is a plan's folder: sheets and the file that lists them.
func planned(of, version string, names ...string) []plan.File {
	digests := map[string]string{}
	var out []plan.File
	for _, n := range names {
		f := plan.File{Name: n, Data: []byte(n + " of " + version)}
		digests[n] = plan.Digest(f.Data)
		out = append(out, f)
	}
	js, _ := json.Marshal(map[string]any{
		"format": plan.Format, "version": plan.Version, "by": version, "artwork": map[string]string{"file": of},
		"digests": digests,
	})
	return append(out, plan.File{Name: plan.FileName, Data: js})
}

// fill puts files into a folder without more ado.
func fill(t *testing.T, dir string, files []plan.File) {
	require.NoError(t, os.MkdirAll(dir, 0o755))
	for _, f := range files {
		require.NoError(t, os.WriteFile(filepath.Join(dir, f.Name), f.Data, 0o644))
	}
}

// holds tells whether a folder holds just these files, strange ones aside.
func holds(dir string, files []plan.File, strange ...string) bool {
	if files == nil {
		return !exists(dir)
	}
	names, err := list(dir)
	if err != nil {
		return false
	}
	n := 0
	for _, f := range files {
		if data, err := os.ReadFile(filepath.Join(dir, f.Name)); err != nil || string(data) != string(f.Data) {
			return false
		}
		n++
	}
	for _, s := range strange {
		if exists(filepath.Join(dir, s)) {
			n++
		}
	}
	return n == len(names)
}

// Whatever call is the last one of a run, the folder holds the old plan or the new one, whole, and the next run ends
// with the new one, leaves nothing behind, and loses nothing that is not ours.
func TestEveryCallTheLast(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("the folder that a killed program had locked stays locked in this process")
	}
	full := planned("rose.svg", "old", "wall.svg", "working.pdf", "order.svg", "rose-simpler.svg")
	next := planned("rose.svg", "new", "wall.svg", "working.pdf", "proof.png")
	refused := planned("rose.svg", "no", "marked.svg")
	calls, ended := 0, 0
	for _, c := range []struct {
		what     string
		old, new []plan.File
		strange  bool
	}{
		{"nothing to plan", nil, next, false},
		{"plan to plan", full, next, false},
		{"plan to refusal", full, refused, false},
		{"refusal to plan", refused, next, false},
		{"refusal to refusal", refused, planned("rose.svg", "again", "marked.svg"), false},
		{"plan to plan among other files", full, next, true},
		{"other files alone", []plan.File{}, next, true},
	} {
		for _, how := range []string{"killed", "failed", "full"} {
			for _, apart := range []bool{false, true} {
				for _, inside := range []bool{false, true} {
					if inside && how != "killed" || apart && how == "full" {
						continue // no other than without
					}
					step := map[bool]int{true: 37, false: 1}[how == "full"]
					for n := 1; ; n += step {
						what := fmt.Sprintf("%s, %s at call %d, apart %v, inside %v", c.what, how, n, apart, inside)
						root := t.TempDir()
						f := Folder{
							Dir: filepath.Join(root, "rose-plan"), Files: c.new, Replace: c.strange,
							Ours: Plans{Drawing: "rose.svg"}, Inputs: Inputs{filepath.Join(root, "rose.svg")},
						}
						if c.old != nil {
							fill(t, f.Dir, c.old)
						}
						fill(t, root, []plan.File{{Name: "rose.svg", Data: []byte("drawing")}})
						if c.strange {
							fill(t, f.Dir, []plan.File{{Name: "notes.txt", Data: []byte("notes")}})
							fill(t, filepath.Join(f.Dir, "photos"), []plan.File{{Name: "a.jpg", Data: []byte("photo")}})
						}
						d := &ends{left: n, how: how, apart: apart, inside: inside}
						f.disk = d
						killed, err := try(f)
						if !d.done {
							require.NoError(t, err, what)
							break
						}
						ended++
						old, new := holds(
							f.Dir,
							c.old,
							"notes.txt",
							"photos",
						), holds(
							f.Dir,
							c.new,
							"notes.txt",
							"photos",
						)
						gone := apart && killed && !exists(f.Dir)
						require.True(t, old || new || gone, "mixed: %s: %v", what, ls(f.Dir))
						if !killed && err != nil {
							var typed *Error
							require.ErrorAs(t, err, &typed, what)
						}
						if e := (*Error)(nil); errors.As(err, &e) {
							require.Equal(t, e.Replaced, new, "%s: %v", what, err)
						}
						if how == "full" {
							require.True(t, old, what)
						}
						f.disk = &ends{}
						_, err = f.Put()
						require.NoError(t, err, what)
						require.True(t, holds(f.Dir, c.new, "notes.txt", "photos"), "%s: %v", what, ls(f.Dir))
						require.Equal(t, []string{"rose-plan", "rose.svg"}, ls(root), what)
						require.Equal(t, "drawing", text(filepath.Join(root, "rose.svg")), what)
						if c.strange {
							require.Equal(t, "notes", text(filepath.Join(f.Dir, "notes.txt")), what)
							require.Equal(t, "photo", text(filepath.Join(f.Dir, "photos", "a.jpg")), what)
						}
						calls = max(calls, n)
					}
				}
			}
		}
	}
	t.Logf("%d runs ended, at up to %d calls of a run or bytes of room", ended, calls)
	assert.Greater(t, ended, 500)
}

// try puts, and tells whether the program was killed in it.
func try(f Folder) (killed bool, err error) {
	defer func() {
		if x := recover(); x == errKilled {
			killed = true
		} else if x != nil {
			panic(x)
		}
	}()
	_, err = f.Put()
	return false, err
}

func ls(dir string) []string {
	names, _ := list(dir)
	return names
}

func text(name string) string {
	data, _ := os.ReadFile(name)
	return string(data)
}

// What is not this plan's is left alone, each with its reason, unless it is to be replaced; what is no plain file is
// never replaced.
func TestLeftAlone(t *testing.T) {
	next := planned("rose.svg", "new", "wall.svg", "proof.pdf")
	for _, c := range []struct {
		what    string
		fill    func(t *testing.T, dir string)
		replace bool
		want    string // of the refusal; "" for none
	}{
		{"another drawing", func(t *testing.T, dir string) { fill(t, dir, planned("boat.svg", "old", "wall.svg")) }, false, "holds the plan of boat.svg"},
		{"another drawing, to be replaced", func(t *testing.T, dir string) { fill(t, dir, planned("boat.svg", "old", "order.svg")) }, true, ""},
		{"a file of one's own", func(t *testing.T, dir string) { fill(t, dir, []plan.File{{Name: "notes.txt"}}) }, false, "notes.txt"},
		{"a proof of one's own", func(t *testing.T, dir string) { fill(t, dir, []plan.File{{Name: "proof.pdf"}}) }, false, "proof.pdf"},
		{"a sheet that was written on", func(t *testing.T, dir string) {
			fill(t, dir, planned("rose.svg", "old", "wall.svg"))
			fill(t, dir, []plan.File{{Name: "wall.svg", Data: []byte("mine")}})
		}, false, "changed by hand: wall.svg"},
		{"a list that names what is not ours", func(t *testing.T, dir string) {
			fill(t, dir, planned("rose.svg", "old", "mine.txt"))
		}, false, "mine.txt"},
		{"clutter of a file manager", func(t *testing.T, dir string) { fill(t, dir, []plan.File{{Name: ".DS_Store"}}) }, false, ""},
		{"a folder by a sheet's name", func(t *testing.T, dir string) { fill(t, filepath.Join(dir, "proof.pdf"), nil) }, true, "no plain file"},
		{"a link by a sheet's name", func(t *testing.T, dir string) {
			fill(t, dir, nil)
			require.NoError(t, os.Symlink("../mine.txt", filepath.Join(dir, "proof.pdf")))
		}, true, "no plain file"},
	} {
		root := t.TempDir()
		dir := filepath.Join(root, "rose-plan")
		c.fill(t, dir)
		before := tree(t, dir)
		_, err := Folder{Dir: dir, Files: next, Ours: Plans{Drawing: "rose.svg"}, Replace: c.replace}.Put()
		if c.want == "" {
			require.NoError(t, err, c.what)
			assert.True(t, holds(dir, next, ".DS_Store"), "%s: %v", c.what, ls(dir))
		} else {
			assert.ErrorContains(t, err, c.want, c.what)
			assert.ErrorContains(t, err, "nothing was replaced", c.what)
			assert.ErrorAs(t, err, new(*Taken), c.what)
			assert.Equal(t, before, tree(t, dir), c.what)
		}
		assert.Equal(t, []string{"rose-plan"}, ls(root), c.what)
	}
}

// tree is all files below a folder.
func tree(t *testing.T, dir string) map[string]string {
	out := map[string]string{}
	require.NoError(t, filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		out[p] = d.Type().String() + text(p)
		return err
	}))
	return out
}

// A name in an old list that leads out of the folder removes nothing.
func TestNamesThatLeadOut(t *testing.T) {
	root := t.TempDir()
	fill(t, root, []plan.File{{Name: "x-simpler.svg", Data: []byte("mine")}})
	dir := filepath.Join(root, "p")
	js := fmt.Sprintf(`{"format":%q,"artwork":{"file":"rose.svg"},"digests":{"../x-simpler.svg":%q}}`, plan.Format,
		plan.Digest([]byte("mine")))
	fill(t, dir, []plan.File{{Name: plan.FileName, Data: []byte(js)}})
	_, err := Folder{Dir: dir, Files: planned("rose.svg", "new", "wall.svg"), Ours: Plans{Drawing: "rose.svg"}}.Put()
	require.NoError(t, err)
	assert.Equal(t, "mine", text(filepath.Join(root, "x-simpler.svg")))
}

// No input is an output, by whatever name; a folder with an input in it, the one that a run was started in, a root, a
// file and a link to nowhere are no folders for a plan; a link to a folder is written through.
func TestInputsAreNoOutputs(t *testing.T) {
	root := t.TempDir()
	at := func(n string) string { return filepath.Join(root, n) }
	fill(t, at("p/q"), []plan.File{{Name: "rose.svg", Data: []byte("drawing")}})
	rose := at("p/q/rose.svg")
	require.NoError(t, os.Symlink(rose, at("soft.svg")))
	require.NoError(t, os.Link(rose, at("hard.svg")))
	require.NoError(t, os.Symlink(at("p"), at("also")))
	require.NoError(t, os.Symlink(at("nowhere"), at("lost")))
	require.NoError(t, os.MkdirAll(at("real"), 0o755))
	require.NoError(t, os.Symlink(at("real"), at("linked")))
	for _, name := range []string{rose, at("soft.svg"), at("hard.svg"), at("also/q/../q/rose.svg")} {
		err := One{Name: name, Inputs: Inputs{at("soft.svg"), ""}}.Put([]byte("output"))
		assert.ErrorContains(t, err, "input of this run", name)
	}
	assert.ErrorContains(t, One{Name: at("lost")}.Put(nil), "leads nowhere")
	assert.ErrorContains(t, One{Name: at("p")}.Put(nil), "is a folder")
	here, err := os.Getwd()
	require.NoError(t, err)
	for dir, want := range map[string]string{
		at("p"): "lies in", at("p/q"): "lies in", at("also/q"): "lies in", rose: "not a folder", at("lost"): "nowhere",
		here: "was started", filepath.Dir(here): "was started", filepath.VolumeName(here) + string(filepath.Separator): "root",
	} {
		_, err := Folder{
			Dir:     dir,
			Inputs:  Inputs{at("soft.svg")},
			Ours:    Plans{Drawing: "rose.svg"},
			Replace: true,
			Files:   planned("rose.svg", "x"),
		}.Put()
		assert.ErrorContains(t, err, want, dir)
	}
	next := planned("rose.svg", "new", "wall.svg")
	_, err = Folder{Dir: at("linked"), Inputs: Inputs{rose}, Ours: Plans{Drawing: "rose.svg"}, Files: next}.Put()
	require.NoError(t, err)
	assert.True(t, holds(at("real"), next))
	info, err := os.Lstat(at("linked"))
	require.NoError(t, err)
	assert.NotZero(t, info.Mode()&os.ModeSymlink)
	assert.Equal(t, "drawing", text(rose))
	assert.True(t, Same(at("soft.svg"), rose))
	assert.True(t, Within(at("also/q"), at("p")))
	assert.False(t, Within(at("p"), at("p/q")))
}

// One file: whole or as it was whatever call is the last; a link is written through, its mode kept; a device is
// written to.
func TestOneFile(t *testing.T) {
	for _, how := range []string{"killed", "failed", "full"} {
		for n := 1; ; n++ {
			root := t.TempDir()
			name := filepath.Join(root, "flat.svg")
			fill(t, root, []plan.File{{Name: "flat.svg", Data: []byte("old bytes")}})
			require.NoError(t, os.Chmod(name, 0o600))
			d := &ends{left: n, how: how}
			o := One{Name: name, disk: d}
			func() {
				defer func() { _ = recover() }()
				_ = o.Put([]byte("new bytes"))
			}()
			if !d.done {
				break
			}
			assert.Contains(t, []string{"old bytes", "new bytes"}, text(name))
			require.NoError(t, One{Name: name}.Put([]byte("new bytes")))
			assert.Equal(t, "new bytes", text(name))
			assert.Equal(t, []string{"flat.svg"}, ls(root))
			info, err := os.Stat(name)
			require.NoError(t, err)
			assert.Equal(t, os.FileMode(0o600), info.Mode().Perm())
		}
	}
	root := t.TempDir()
	fill(t, root, []plan.File{{Name: "real.svg"}})
	link := filepath.Join(root, "link.svg")
	require.NoError(t, os.Symlink("real.svg", link))
	require.NoError(t, One{Name: link}.Put([]byte("through")))
	assert.Equal(t, "through", text(filepath.Join(root, "real.svg")))
	assert.Equal(t, []string{"link.svg", "real.svg"}, ls(root))
	if _, err := os.Stat("/dev/full"); err == nil {
		require.NoError(t, One{Name: "/dev/null"}.Put([]byte("gone")))
		assert.ErrorContains(t, One{Name: "/dev/full"}.Put([]byte("no room")), "no space")
		info, err := os.Stat("/dev/null")
		require.NoError(t, err)
		assert.NotZero(t, info.Mode()&os.ModeCharDevice)
	}
}

// Many runs at once end with the plan of one of them.
func TestRunsAtOnce(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "rose-plan")
	var wg sync.WaitGroup
	for i := range 8 {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for k := range 10 {
				files := planned("rose.svg", fmt.Sprint(i, k), "wall.svg", fmt.Sprintf("proof-%d.png", i+1))
				_, err := Folder{Dir: dir, Files: files, Ours: Plans{Drawing: "rose.svg"}}.Put()
				assert.NoError(t, err)
			}
		}()
	}
	wg.Wait()
	assert.Equal(t, []string{"rose-plan"}, ls(filepath.Dir(dir)))
	assert.Len(t, ls(dir), 3)
	assert.Len(t, Plans{Drawing: "rose.svg"}.In(dir).Ours, 3, "all with the digests that are listed")
}

// A folder without rights, and a lost standard output.
func TestWithoutRights(t *testing.T) {
	told := &Told{To: lost{}}
	_, err := told.Write([]byte("x"))
	assert.Error(t, err)
	assert.Error(t, told.Err)
	if os.Getuid() == 0 {
		t.Skip("this user may write everywhere")
	}
	root := t.TempDir()
	require.NoError(t, os.Chmod(root, 0o555))
	_, err = Folder{Dir: filepath.Join(root, "p"), Files: planned("rose.svg", "new"), Ours: Plans{Drawing: "rose.svg"}}.Put()
	assert.ErrorContains(t, err, "nothing was replaced")
	assert.Error(t, One{Name: filepath.Join(root, "a.svg")}.Put(nil))
}

type lost struct{}

func (lost) Write([]byte) (int, error) { return 0, syscall.EPIPE }
