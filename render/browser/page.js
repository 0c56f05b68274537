// The family page while it is live. What is seen, and every word about it, comes from the
// engine; this script hands over what was done, and when, and shows what it is told.
"use strict";
(() => {
const $ = id => document.getElementById(id);
const root = document.documentElement;
const scenes = JSON.parse($("scenes").textContent);
const still = matchMedia("(prefers-reduced-motion: reduce)");

// The engine: exports of a WebAssembly module that asks for nothing but a clock, random
// numbers, and a place to say what went wrong.

let engine, memory;

async function start() {
	const stream = new Blob([unpacked($("engine").textContent)]).stream().pipeThrough(new DecompressionStream("gzip"));
	const module = await WebAssembly.compile(await new Response(stream).arrayBuffer());
	const instance = await WebAssembly.instantiate(module, { wasi_snapshot_preview1: host(module) });
	engine = instance.exports;
	memory = engine.memory;
	engine._initialize();
}

// unpacked turns two characters into 13 bits each: a thirteenth less than base64 has.
function unpacked(text) {
	const bytes = new Uint8Array(Number($("engine").dataset.size));
	for (let i = 0, at = 0, bits = 0, n = 0; i < text.length; i += 2) {
		bits = bits << 13 | 91 * digits[text.charCodeAt(i)] + digits[text.charCodeAt(i + 1)];
		for (n += 13; n >= 8; bytes[at++] = bits >> n) n -= 8;
		bits &= (1 << n) - 1;
	}
	return bytes;
}

// Those of ASCII but for what means something in a page.
const digits = new Uint8Array(128);
for (let c = 33, d = 0; c < 127; c++) if (!"<>&".includes(String.fromCharCode(c))) digits[c] = d++;

// host is the system that the engine believes to run on.
function host(module) {
	const view = () => new DataView(memory.buffer);
	const calls = {};
	let said = ""; // by the engine, when it ends
	for (const { name } of WebAssembly.Module.imports(module)) calls[name] = () => 8; // there is no such file
	for (const name of ["args_sizes_get", "environ_sizes_get"])
		calls[name] = (count, size) => { view().setUint32(count, 0, true); view().setUint32(size, 0, true); return 0; };
	calls.args_get = calls.environ_get = calls.sched_yield = () => 0;
	calls.clock_time_get = (id, precision, at) => {
		view().setBigUint64(at, BigInt(Math.round((id ? performance.now() : Date.now()) * 1e6)), true);
		return 0;
	};
	calls.random_get = (at, n) => { crypto.getRandomValues(new Uint8Array(memory.buffer, at, n)); return 0; };
	calls.fd_write = (fd, at, n, written) => {
		let text = "", total = 0;
		for (let i = 0; i < n; i++) {
			const from = view().getUint32(at + 8 * i, true), length = view().getUint32(at + 8 * i + 4, true);
			text += new TextDecoder().decode(new Uint8Array(memory.buffer, from, length));
			total += length;
		}
		said += text;
		view().setUint32(written, total, true);
		return 0;
	};
	calls.poll_oneoff = (what, events, n, happened) => { view().setUint32(happened, n, true); return 0; };
	calls.proc_exit = code => { throw new Error(`the engine ended: ${code}\n${said}`); };
	return calls;
}

// ask calls an export with a text and gives its answer.
function ask(name, text, ...more) {
	if (text !== null) {
		const bytes = new TextEncoder().encode(text);
		const at = engine.room(bytes.length);
		new Uint8Array(memory.buffer, at, bytes.length).set(bytes);
	}
	const length = engine[name](...more);
	return JSON.parse(new TextDecoder().decode(new Uint8Array(memory.buffer, engine.answer(), length)));
}

// fail puts the still picture back, and says that something went wrong.
function fail(error, id) {
	console.error(error);
	cancelAnimationFrame(frame);
	root.classList.remove("live");
	$("live").hidden = true;
	for (const e of ["choose", "looks"]) if ($(e)) $(e).hidden = true;
	$("why").hidden = true;
	$(id).hidden = false;
	engine = null;
}

// guarded is a handler that fails as a whole.
const guarded = f => (...args) => {
	if (!engine) return;
	try { f(...args); } catch (error) { fail(error, "failed"); }
};

// What is shown.

let scene = 0;         // its number
let practice, step;    // its routine, and where in it; −1: it is not gone through
let others, heard;     // other answers than the one hoped for, there, and the one that is shown; −1: none is
let seen;              // what is seen
let clock = 0;         // s since the last change, or since the step began
let playing = false;   // what moves by itself is let go on
let moves = false;     // the scene moves by itself
let frame = 0, last = 0;
let changed = 0;       // when something was changed last, ms
let spoke = 0;         // when what is said was, ms
let sharp = false;     // the picture has all the pixels of the screen

const pressed = id => $(id).getAttribute("aria-pressed") === "true";
const press = (id, on) => $(id).setAttribute("aria-pressed", on);
const chosen = name => document.querySelector(`input[name=${name}]:checked`);

const rest = 150; // ms after which what rests is painted in full
const stands = 1000; // ms that what is said of something that moves by itself stands at least
const quick = 280e3; // pixels that are painted fast enough to follow a finger

// paint paints what is seen, coarser while something moves.
function paint() {
	const canvas = $("canvas"), width = canvas.clientWidth, height = canvas.clientHeight;
	if (!width) return;
	const full = Math.min(devicePixelRatio || 1, 3);
	const coarse = Math.min(full, Math.sqrt(quick / (width * height)));
	const scale = sharp ? full : coarse;
	const w = Math.round(width * scale), h = Math.round(height * scale);
	const at = engine.paint(w, h, root.dataset.look === "light" ? 1 : 0, pressed("beside") ? 1 : 0, pressed("marks") ? 1 : 0, scale);
	if (canvas.width !== w) canvas.width = w;
	if (canvas.height !== h) canvas.height = h;
	canvas.getContext("2d").putImageData(new ImageData(new Uint8ClampedArray(memory.buffer, at, 4 * w * h), w, h), 0, 0);
}

// goesOn says whether time brings anything: a cover that was moved, what plays, a step.
function goesOn() {
	if (step < 0) return (playing || !moves) && seen.moves;
	if (heard >= 0) return seen.moves;
	return pressed("run") || pressed("good") && count < practice.steps[step].hold || seen.moves && (!still.matches || clock < practice.steps[step].move);
}

// tick is one frame: time goes on, what is seen then is painted, and said when it rests.
const tick = guarded(now => {
	frame = 0;
	const passed = Math.min((now - last) / 1000, 1); // a phone that slept does not make up for it
	last = now;
	if (goesOn()) {
		clock += passed;
		if (step >= 0 && heard < 0) holds(passed);
	}
	seen = ask("look", null, still.matches && (moves || heard >= 0) ? Math.floor(clock) : clock);
	if (playing && !seen.moves) {
		playing = false;
		press("play", false);
	}
	const busy = goesOn();
	sharp = !busy && now - changed >= rest;
	paint();
	$("canvas").setAttribute("aria-busy", !sharp);
	tell(now, busy);
	if (busy || !sharp) frame = requestAnimationFrame(tick);
});

// show has what changed painted, and all of it once it rests.
function show() {
	changed = performance.now();
	for (const id of ["canvas", "sentence"]) $(id).setAttribute("aria-busy", true);
	if (!frame) {
		last = changed;
		frame = requestAnimationFrame(tick);
	}
}

// tell says what is seen: the sentence when nothing is pulled any more, and not faster than
// it can be followed, so that it can be read, and read out, whole.
function tell(now, busy) {
	if (now - changed >= rest && (!busy || now - spoke >= stands)) say();
	const meeting = $("meeting");
	if (meeting && meeting.textContent !== seen.meeting) {
		meeting.textContent = seen.meeting;
		$("posture.deviation_prism").setAttribute("aria-valuetext", seen.meeting);
	}
}

// say says what is seen just now. The box of the sentence grows and does not shrink, so
// that what stands below stays under the finger.
function say() {
	const sentence = $("sentence");
	sentence.setAttribute("aria-busy", false);
	if (sentence.textContent === seen.sentence) return;
	spoke = performance.now();
	sentence.textContent = seen.sentence;
	sentence.style.minHeight = sentence.offsetHeight + "px";
}

// fit gives the sentence the room that it needs by itself, in a routine that of the longest
// one, so that nothing below moves from step to step.
function fit() {
	const sentence = $("sentence"), ruler = document.createElement("p");
	ruler.className = "sentence";
	sentence.after(ruler);
	const heights = (step < 0 ? [] : practice.steps).map(s => { ruler.textContent = s.says; return ruler.offsetHeight; });
	ruler.remove();
	sentence.style.minHeight = step < 0 ? "" : Math.max(...heights) + "px";
}

// Scenes and controls.

function open(i) {
	scene = i;
	const s = scenes[i];
	document.title = title(i);
	for (const e of document.querySelectorAll(".scene")) e.classList.toggle("now", e.id === s.id);
	document.querySelector(`#${s.id} .stage`).append($("live"));
	const wrong = ask("open", [s.name, s.allow, s.source].join("\n"));
	if (wrong.error) throw new Error(wrong.error);
	for (const b of document.querySelectorAll("[data-eye]")) b.setAttribute("aria-pressed", false);
	practice = ask("practice", null);
	leave();
	build();
	$("covers").hidden = s.allow === "nothing";
	tellDays();
	begin();
}

// begin lets the clock of what is seen begin again. What that is, is said at once.
function begin() {
	restart();
	say();
}

// restart lets the clock begin again while something is pulled.
function restart() {
	clock = 0;
	playing = false;
	press("play", false);
	seen = ask("look", null, 0);
	moves = step < 0 && seen.moves;
	$("play").hidden = !moves;
	show();
}

// build makes the controls that the scene has.
function build() {
	const all = ask("controls", null);
	const made = all.map(c => {
		const box = document.createElement("div"), label = document.createElement("label");
		box.className = "control";
		label.htmlFor = c.key;
		label.textContent = c.label;
		let input;
		if (c.choices.length) {
			input = document.createElement("select");
			for (const o of c.choices) input.add(new Option(o.text, o.value, false, o.value === c.value));
			box.append(label, input);
		} else {
			input = document.createElement("input");
			Object.assign(input, { type: "range", min: c.min, max: c.max, step: c.step, value: c.value });
			if (c.falls) input.dir = "rtl"; // nearer is left, as the nose is
			const ends = document.createElement("div");
			ends.className = "ends";
			ends.setAttribute("aria-hidden", "true");
			for (const end of [c.left, c.right]) ends.append(Object.assign(document.createElement("span"), { textContent: end }));
			const value = document.createElement("output");
			value.htmlFor = c.key;
			if (c.key === "posture.deviation_prism") value.id = "meeting";
			else value.textContent = c.text;
			box.append(label, value, input, ends);
		}
		input.id = c.key;
		input.addEventListener("input", guarded(() => {
			const wrong = ask("set", c.key + "\n" + input.value);
			if (wrong.error) input.value = c.value; // which the scene cannot be
			else c.value = input.value;
			for (const now of ask("controls", null)) refresh(now);
			uncover();
			restart();
		}));
		// A finger that turns out to scroll the page has pulled on nothing.
		let before;
		input.addEventListener("pointerdown", () => { before = input.value; });
		input.addEventListener("pointercancel", () => {
			input.value = before;
			input.dispatchEvent(new Event("input"));
		});
		return box;
	});
	$("controls").replaceChildren(...made.filter((_, i) => !all[i].more));
	$("others").replaceChildren(...made.filter((_, i) => all[i].more));
	$("more").hidden = !all.some(c => c.more);
	for (const c of all) refresh(c);
}

// refresh says a number of a control in words, also to who does not see the picture.
function refresh(c) {
	const input = document.getElementById(c.key);
	if (!input || !c.text) return;
	input.setAttribute("aria-valuetext", c.text);
	input.parentNode.querySelector("output").textContent = c.text;
}

// Covers: as long as a button is held down, by a finger, a key, or, where something presses
// it for somebody, from one press to the next.

function cover(button, on) {
	if ((button.getAttribute("aria-pressed") === "true") === on) return;
	if (on) uncover();
	button.setAttribute("aria-pressed", on);
	if (moves && !playing) play();
	ask("cover", on ? button.dataset.eye : "none", clock);
	show();
}

function uncover() {
	for (const b of document.querySelectorAll("[data-eye][aria-pressed=true]")) b.setAttribute("aria-pressed", false);
}

for (const b of document.querySelectorAll("[data-eye]")) {
	const hold = guarded(e => {
		if (e.type === "keydown" && e.key !== " " && e.key !== "Enter") return;
		if (e.type === "keydown") e.preventDefault();
		else b.setPointerCapture(e.pointerId);
		cover(b, true);
	});
	const release = guarded(() => cover(b, false));
	b.addEventListener("pointerdown", hold);
	b.addEventListener("keydown", hold);
	for (const type of ["pointerup", "pointercancel", "keyup", "blur"]) b.addEventListener(type, release);
	b.addEventListener("contextmenu", e => e.preventDefault());
	// A press without a finger or a key: a screen reader's.
	b.addEventListener("click", guarded(e => { if (e.detail === 0) cover(b, b.getAttribute("aria-pressed") !== "true"); }));
}

// Other buttons.

function play() {
	if (!seen.moves) clock = 0; // it was over
	playing = !playing || !seen.moves;
	press("play", playing);
	seen = ask("look", null, clock);
	show();
}
$("play").addEventListener("click", guarded(play));
for (const id of ["beside", "marks"])
	$(id).addEventListener("click", guarded(() => { press(id, !pressed(id)); show(); }));

// The routine: a hold counts from when it is said to be right.

let count = 0;
let limit = 0; // mm: no nearer than this, since it stayed so there

function go(i) {
	step = i;
	ask("step", null, step);
	others = ask("others", null);
	tellStep();
	settle();
	begin();
}

// tellStep puts the words of a step into the page.
function tellStep() {
	const s = practice.steps[step];
	$("place").textContent = s.title;
	$("back").disabled = step === 0;
	$("over").hidden = true;
	list("questions", practice.questions);
	$("answers").replaceChildren(...others.map((o, i) => {
		const b = Object.assign(document.createElement("button"), { type: "button", textContent: o.heard });
		b.addEventListener("click", guarded(() => hear(i)));
		return b;
	}));
}

// settle shows the step again, with nothing counted and no other answer.
function settle() {
	count = 0;
	press("good", false);
	offer(false);
	hear(-1);
	tellCount();
}

function tellCount() {
	const s = practice.steps[step];
	$("count").textContent = `${Math.floor(count)} / ${s.hold}`;
	$("bar").value = count / s.hold;
	const over = count >= s.hold;
	if (over === !$("counted").textContent) $("counted").textContent = over ? said("name-counted") : "";
}

// following is the first step from i on that is not nearer than what stayed two.
function following(i) {
	while (i < practice.steps.length && practice.steps[i].at < limit) i++;
	return i;
}

function onward() {
	const i = following(step + 1);
	if (i < practice.steps.length) return go(i);
	press("run", false);
	$("over").hidden = false;
	tickDay(true);
}

// holds counts a hold, and goes on by itself where that was asked for. Where the model
// expects nothing to count, the place is shown for as long.
function holds(passed) {
	const s = practice.steps[step];
	if (clock < s.move) return;
	if (pressed("run") && seen.right) press("good", true);
	if (pressed("good") && count < s.hold) {
		count = Math.min(count + passed, s.hold);
		tellCount();
	}
	if (pressed("run") && (count >= s.hold || !s.right && clock >= s.move + s.hold)) onward();
}

function leave() {
	step = heard = -1;
	limit = 0;
	press("run", false);
	ask("step", null, -1);
	phase();
}

// phase shows what belongs to the routine while it is gone through, and else the rest.
function phase() {
	const on = step >= 0;
	$("practice").hidden = !on;
	$("pulling").hidden = $("views").hidden = on;
	$("practise").hidden = on || !scenes[scene].routine;
	fit();
}

function list(id, texts) {
	$(id).replaceChildren(...texts.map(t => Object.assign(document.createElement("li"), { textContent: t })));
}

// Another answer, in three taps: that there is one, which it is, what came of it. What was
// heard shows in the picture, as it is seen then.

function offer(on) {
	$("heard").hidden = !on;
	$("other").setAttribute("aria-expanded", on);
}

function hear(i) {
	heard = i;
	ask("hear", null, i);
	$("meaning").hidden = i < 0;
	$("counting").hidden = $("good").hidden = i >= 0;
	if (i < 0) return;
	offer(false);
	const o = others[i];
	$("sees").textContent = o.sees;
	$("means").textContent = o.means;
	list("tries", o.tries);
	$("stop").textContent = o.stop;
	$("stays").hidden = !o.back || practice.steps[step].away || farther() < 0;
	begin();
	$("sees").focus();
}

// farther is the next step that is farther out than this one.
function farther() {
	return practice.steps.findIndex((s, i) => i > step && s.at > practice.steps[step].at);
}

// right begins to count; the way to the place is not gone again.
function right() {
	if (heard >= 0) clock = practice.steps[step].move;
	settle();
	press("good", true);
	show();
}

$("practise").addEventListener("click", guarded(() => {
	uncover();
	go(0);
	phase();
	$("place").focus();
}));
$("back").addEventListener("click", guarded(() => { if (step > 0) go(step - 1); }));
$("next").addEventListener("click", guarded(onward));
$("run").addEventListener("click", guarded(() => {
	press("run", !pressed("run"));
	if (heard < 0) return show();
	settle();
	begin();
}));
for (const id of ["good", "again"])
	$(id).addEventListener("click", guarded(() => { right(); $("good").focus(); }));
$("other").addEventListener("click", guarded(() => {
	const on = $("heard").hidden;
	press("run", false);
	settle();
	offer(on);
	begin();
	if (on) $("answers").firstElementChild?.focus();
}));
$("stays").addEventListener("click", guarded(() => {
	const out = farther();
	limit = practice.steps[out].at;
	go(out);
	$("place").focus();
}));
$("leave").addEventListener("click", guarded(() => { leave(); begin(); $("practise").focus(); }));

// The days on which it was practised stay in what the browser keeps for this page. Where it
// keeps nothing, as some do for a file, they last as long as the page, which says so.

const key = () => "twincord " + scenes[scene].key;
const unkept = {}; // instead

function kept() {
	try { return JSON.parse(localStorage.getItem(key())) || unkept[key()] || []; } catch { return unkept[key()] || []; }
}

// keeps tries whether something can be kept.
const keeps = (() => {
	try {
		localStorage.setItem("twincord", "");
		localStorage.removeItem("twincord");
		return true;
	} catch { return false; }
})();

function keep(days) {
	if (!keeps) unkept[key()] = days;
	else if (days.length) localStorage.setItem(key(), JSON.stringify(days.sort()));
	else localStorage.removeItem(key());
	tellDays();
}

// tick says that today, or that today not.
function tickDay(on) {
	const others = kept().filter(d => d !== today());
	keep(on ? [...others, today()] : others);
}

function today() {
	const d = new Date();
	return [d.getFullYear(), d.getMonth() + 1, d.getDate()].map(n => String(n).padStart(2, "0")).join("-");
}

function tellDays() {
	const all = kept();
	$("days").hidden = !scenes[scene].routine;
	$("kept").hidden = !keeps;
	$("unkept").hidden = keeps;
	$("done").checked = all.includes(today());
	$("list").hidden = $("empty").hidden = !all.length;
	$("dates").textContent = all.map(d => new Date(d + "T12:00").toLocaleDateString(chosen("language").value, { day: "numeric", month: "long" })).join(", ");
}

$("done").addEventListener("change", guarded(() => tickDay($("done").checked)));
$("empty").addEventListener("click", guarded(() => keep([])));

// Language, unit, look.

function speak() {
	const language = chosen("language").value, unit = chosen("unit").value;
	root.lang = language;
	root.className = [language, unit, root.classList.contains("live") ? "live" : ""].join(" ");
	const wrong = ask("speak", language, unit === "in" ? 1 : 0);
	if (wrong.error) throw new Error(wrong.error);
}

function words() {
	speak();
	if ($("scene")) nameScenes();
	document.title = title(scene);
	build();
	uncover();
	practice = ask("practice", null);
	fit();
	tellDays();
	if (step >= 0) return go(step);
	begin();
}

// said is what an element says in the language that shows.
function said(id) {
	const all = [...document.querySelectorAll(`#${id} span`)];
	return (all.find(s => s.classList.contains(chosen("language").value)) || all[0]).textContent;
}

const title = i => said(scenes[i].id + "-title");

// nameScenes fills the list of scenes.
function nameScenes() {
	for (const group of ["exercises", "pictures"]) {
		$(group).label = said("name-" + group);
		$(group).replaceChildren();
	}
	scenes.forEach((s, i) => $(s.routine ? "exercises" : "pictures").append(new Option(title(i), i, false, i === scene)));
}

// linked is the scene that the address names, or −1.
const linked = () => scenes.findIndex(s => "#" + s.id === location.hash);

function look() {
	root.dataset.look = chosen("look").value;
	show();
}

for (const e of document.querySelectorAll("input[name=language], input[name=unit]")) e.addEventListener("change", guarded(words));
for (const e of document.querySelectorAll("input[name=look]")) e.addEventListener("change", guarded(look));
addEventListener("resize", guarded(() => { fit(); show(); }));
addEventListener("beforeprint", () => { for (const d of document.querySelectorAll("details")) d.open = true; });

// begin everything, if the browser can.

(async () => {
	try {
		await start();
	} catch (error) {
		return fail(error, "old");
	}
	guarded(() => {
		speak();
		$(matchMedia("(prefers-color-scheme: dark)").matches ? "dark" : "light").checked = true;
		root.dataset.look = chosen("look").value;
		$("looks").hidden = false;
		$("live").hidden = false;
		root.classList.add("live");
		for (const d of document.querySelectorAll("details")) d.open = false;
		open(Math.max(0, linked()));
		if (!$("scene")) return;
		nameScenes();
		$("choose").hidden = false;
		// The address names what shows, so that it can be handed on.
		$("scene").addEventListener("change", () => { location.hash = scenes[$("scene").value].id; });
		addEventListener("hashchange", guarded(() => {
			const i = linked();
			if (i < 0 || i === scene) return;
			open(i);
			$("scene").value = i;
			scrollTo(0, 0);
		}));
	})();
})();
})();
