"use strict";
// Goes through the places: at each the questions one after the other, then what is seen.
// Pictures give way to one another at once: two at a time would show beads that are not there.
(() => {
	const byId = id => document.getElementById(id);
	const player = byId("player"), shown = byId("shown"), play = byId("play");
	const places = Array.from(document.querySelectorAll("#places li"));
	const asks = Array.from(document.querySelectorAll("#asks li")).map(x => x.textContent);
	const each = asks.length + 1, last = places.length * each - 1;
	let at = 0, timer = 0;
	const show = to => {
		at = Math.max(0, Math.min(last, to));
		const n = Math.floor(at / each), q = at % each;
		shown.setAttribute("href", "#p" + n);
		byId("where").textContent = places[n].querySelector("h3").textContent;
		byId("asked").textContent = q === asks.length ? "" : asks[q];
		byId("seen").textContent = q === asks.length ? places[n].querySelector("p").textContent : "";
		byId("earlier").disabled = at === 0;
		byId("later").disabled = at === last;
	};
	const stop = () => {
		clearInterval(timer);
		timer = 0;
		play.textContent = player.dataset.play;
	};
	byId("earlier").addEventListener("click", () => { stop(); show(at - 1); });
	byId("later").addEventListener("click", () => { stop(); show(at + 1); });
	play.addEventListener("click", () => {
		if (timer) { stop(); return; }
		play.textContent = player.dataset.pause;
		if (at === last) { show(0); }
		timer = setInterval(() => { at === last ? stop() : show(at + 1); }, 3000);
	});
	player.hidden = false;
	show(0);

	// The log stays on this device. Emptying it can be taken back until the page is left.
	const log = byId("log"), key = log.dataset.key, empty = byId("empty"), told = byId("kept");
	const fields = Array.from(document.querySelectorAll("#log input, #fill input"));
	const values = () => fields.map(f => f.type === "checkbox" ? f.checked : f.value);
	const put = all => fields.forEach((f, i) => {
		if (f.type === "checkbox") { f.checked = all[i] === true; } else { f.value = typeof all[i] === "string" ? all[i] : ""; }
	});
	let emptied = null;
	const keep = all => {
		try { localStorage.setItem(key, JSON.stringify(all)); } catch (e) { told.textContent = log.dataset.lost; }
	};
	try {
		const kept = JSON.parse(localStorage.getItem(key));
		if (Array.isArray(kept)) { put(kept); }
	} catch (e) { told.textContent = log.dataset.lost; }
	fields.forEach(f => f.addEventListener("input", () => {
		emptied = null;
		empty.textContent = empty.dataset.empty;
		keep(values());
	}));
	empty.addEventListener("click", () => {
		const all = emptied || [];
		emptied = emptied ? null : values();
		put(all);
		keep(all);
		empty.textContent = emptied ? empty.dataset.back : empty.dataset.empty;
	});
	byId("keeping").hidden = false;
})();
