package shell

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage/repository"
)

// untouchedFiles stands before the toolkit's files so that choosing a file to
// save to does not empty it: the toolkit's dialog opens a writer, which cuts the
// old file to nothing, before the program has anything to write. Here the writer
// of a chosen file touches nothing until it is written to.
type untouchedFiles struct{ files }

// files is everything that the toolkit's files can do.
type files interface {
	repository.Repository
	repository.WritableRepository
	repository.ListableRepository
	repository.HierarchicalRepository
	repository.CopyableRepository
	repository.MovableRepository
	repository.DeleteAllRepository
	repository.AppendableRepository
}

// ProtectFiles puts untouchedFiles in place. It is called once the toolkit has
// registered its own, and changes nothing if those can do less than expected.
func ProtectFiles() {
	own, err := repository.ForScheme("file")
	if err != nil {
		return
	}
	if all, able := own.(files); able {
		repository.Register("file", untouchedFiles{all})
	}
}

// Writer returns a writer that opens the file at its first write.
func (u untouchedFiles) Writer(uri fyne.URI) (fyne.URIWriteCloser, error) {
	return &lateWriter{uri: uri, open: u.files.Writer}, nil
}

type lateWriter struct {
	uri  fyne.URI
	open func(fyne.URI) (fyne.URIWriteCloser, error)
	file fyne.URIWriteCloser
}

// URI is the file.
func (w *lateWriter) URI() fyne.URI { return w.uri }

// Write opens the file at first.
func (w *lateWriter) Write(p []byte) (int, error) {
	if w.file == nil {
		file, err := w.open(w.uri)
		if err != nil {
			return 0, err
		}
		w.file = file
	}
	return w.file.Write(p)
}

// Close closes what was opened.
func (w *lateWriter) Close() error {
	if w.file == nil {
		return nil
	}
	return w.file.Close()
}
