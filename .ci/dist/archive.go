package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"io/fs"
	"time"
)

// file is a file of an archive.
type file struct {
	name    string
	program bool // it can be run
	data    []byte
}

// as is the file under another name.
func (f file) as(name string) file {
	f.name = name
	return f
}

func (f *file) mode() int64 {
	if f.program {
		return 0o755
	}
	return 0o644
}

// zipped is a .zip of files, all of one time.
func zipped(files []file, at time.Time) ([]byte, error) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, f := range files {
		h := &zip.FileHeader{Name: f.name, Method: zip.Deflate, Modified: at}
		h.SetMode(fs.FileMode(f.mode()))
		w, err := z.CreateHeader(h)
		if err != nil {
			return nil, err
		}
		if _, err := w.Write(f.data); err != nil {
			return nil, err
		}
	}
	err := z.Close()
	return b.Bytes(), err
}

// tarred is a .tar.gz of files, all of one time and nobody's.
func tarred(files []file, at time.Time) ([]byte, error) {
	var b bytes.Buffer
	g, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	t := tar.NewWriter(g)
	for _, f := range files {
		h := &tar.Header{Name: f.name, Mode: f.mode(), Size: int64(len(f.data)), ModTime: at, Format: tar.FormatUSTAR}
		if err := t.WriteHeader(h); err != nil {
			return nil, err
		}
		if _, err := t.Write(f.data); err != nil {
			return nil, err
		}
	}
	if err := t.Close(); err != nil {
		return nil, err
	}
	err = g.Close()
	return b.Bytes(), err
}
