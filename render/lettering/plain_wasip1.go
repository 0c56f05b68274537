package lettering

func read(ttf []byte) (typeface, error) { return readPlain(ttf) }
