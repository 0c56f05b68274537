package desk

import (
	"errors"

	"twincord/scenes"
	"twincord/scenes/document"
	"twincord/sim"
)

// kept is a document that was opened before the present one and stays as it is, with its
// history, until the window is closed.
type kept struct {
	doc   *document.Document
	saver document.Autosave
}

// discard throws away what is not saved of it.
func (o *kept) discard() {
	if o.saver != nil {
		snap := o.doc.Snapshot()
		snap.Dirty = false
		o.saver.Offer(snap)
		_ = o.saver.Close() // what cannot be removed is offered at the next start
	}
}

// Document is what is open.
func (d *Desk) Document() *document.Document { return d.doc }

// Open takes another document in the place of the one that is open, which keeps its
// history and can be come back to.
func (d *Desk) Open(doc *document.Document) { d.take(doc, d.newSaver()) }

func (d *Desk) newSaver() document.Autosave {
	if d.saver == nil || d.store == nil {
		return nil
	}
	return d.store.NewSaver()
}

func (d *Desk) take(doc *document.Document, saver document.Autosave) {
	d.save()
	d.setAside()
	if d.over != nil {
		d.closeOverlay()
	}
	d.kit.Release()
	d.doc, d.saver, d.zoom, d.simple = doc, saver, 0, false
	d.inquiry, d.banding = inquiry{more: d.inquiry.more}, banding{}
	d.told = scenes.TranslationOf(d.doc.Identity(), d.say)
	d.bead = max(0, doc.Scene().Setup.FixatedBead())
	d.seen, d.saved = doc.Changes(), doc.Changes()
	d.restart()
	d.build()
	d.turn()
	d.look()
	d.speak()
	d.dirty = true
}

// setAside keeps the document that is open, if there is anything in it to come back to.
func (d *Desk) setAside() {
	if d.doc.Path() == "" && !d.doc.Dirty() {
		if d.saver != nil {
			_ = d.saver.Close() // nothing is in it
		}
		return
	}
	d.others = append(d.others, &kept{d.doc, d.saver})
}

// bringBack opens a document that was set aside.
func (d *Desk) bringBack(o *kept) {
	for i, other := range d.others {
		if other == o {
			d.others = append(d.others[:i:i], d.others[i+1:]...)
			break
		}
	}
	d.take(o.doc, o.saver)
	if path := o.doc.Path(); path != "" {
		d.remember(path)
	}
}

// recover opens an unsaved state that a program left behind which is gone. What it was
// recovered from goes once it is kept anew.
func (d *Desk) recover(r *document.Recovered) {
	d.Open(r.Document())
	if d.saver == nil {
		return
	}
	d.saver.Offer(d.doc.Snapshot())
	err := d.saver.Flush()
	if err == nil {
		err = r.Discard()
	}
	if err != nil {
		d.Warn(err.Error())
	}
}

// Close ends the desk: what is not saved is on the disk for the next start.
func (d *Desk) Close() error {
	err := errors.Join()
	for _, o := range append(d.others, &kept{d.doc, d.saver}) {
		if o.saver != nil {
			o.saver.Offer(o.doc.Snapshot())
			err = errors.Join(err, o.saver.Close())
		}
	}
	return err
}

// turn looks along the string where the findings lose the hold and where it returns.
func (d *Desk) turn() {
	d.turning = [2]sim.Maybe[float64]{}
	if d.setup.Findings.OK {
		walked := d.setup
		walked.Findings.Value.State = sim.StateHolding
		d.turning[0], d.turning[1] = walked.Turning()
	}
}
