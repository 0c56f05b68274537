package words

import "strconv"

// The card that a film ends with, a sentence each.
const (
	FilmCardModel Label = "film-card-model"
	FilmCardStop  Label = "film-card-stop"
	FilmCardNew   Label = "film-card-new"
)

// CountTo says how far to count where a film does not show the whole hold.
func (w *Words) CountTo(to int) string {
	return w.say("film-count-to", with{"To": strconv.Itoa(to)})
}
