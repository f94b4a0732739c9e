package resolve

import "headcap/compiler/model"

// covered reads what was measured again on the covered book.
func (b *builder) covered(v *model.Volume, it *item) {
	on := &model.Covered{Date: it.m.Word("date")}
	v.Covered = on
	again := func(k *item, name string) *model.Figure {
		f, ok := b.figure(k, name, on.Date)
		if !ok {
			return nil
		}
		f.From = model.OnBook
		return &f
	}
	for _, k := range it.kids {
		switch {
		case k.m.Has("strip"):
			on.Strip = again(k, "strip")
		case k.m.Has("caliper"):
			on.Caliper = again(k, "caliper")
		case k.m.Has("edge"):
			on.UpperEdges, on.BandsOrigin = true, k.org
			on.Stations, _ = b.stations(k, "edge")
		case k.m.Has("station"):
			on.BandsOrigin = k.org
			on.Stations, _ = b.stations(k, "station")
		}
	}
}
