// visit.mjs VISITS: opens pages in a browser as a JSON list asks for it, does there what is
// to be done, and writes down, as JSON, what was found. The browser is Chromium, or the
// Firefox that FIREFOX names.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { createHash } from "node:crypto";
import { chromium } from "playwright-core";
import puppeteer from "puppeteer-core";

const patience = 15 * 60 * 1000; // ms, on a machine that is busy with other things

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

// live waits until a page is live, and what it shows at first rests.
async function live(page, seen) {
	await page.waitForFunction(() => window.saidAtOnce !== undefined);
	Object.assign(seen, await page.evaluate(() => ({ live: performance.now(), atOnce: window.saidAtOnce })));
	await settled(page);
}

// settled waits until what is seen rests, is painted in full, and is said.
async function settled(page) {
	await page.waitForFunction(() => canvas.getAttribute("aria-busy") === "false");
}

// told waits until it is said what was seen after the last change, whatever still moves.
async function told(page) {
	await page.waitForFunction(() => sentence.getAttribute("aria-busy") === "false");
}

const state = page => page.evaluate(() => ({
	sentence: document.getElementById("sentence").textContent,
	meeting: document.getElementById("meeting")?.textContent,
	place: document.getElementById("place").textContent,
	focus: document.activeElement.id || document.activeElement.dataset.eye,
}));

// saw waits until something else is said than last, and for good, and keeps it under a name.
async function saw(page, seen, name, rests = settled) {
	const last = Object.values(seen.states ??= {}).at(-1);
	await page.waitForFunction(last => !last || ["sentence", "meeting", "place"].some(id =>
		last[id] !== undefined && document.getElementById(id).textContent !== last[id]), last);
	await rests(page);
	seen.states[name] = await state(page);
}

// utters begins to write down what is said, and in which frame, ms.
async function utters(page) {
	await page.evaluate(() => {
		window.said = [];
		const note = () => said.push({ sentence: sentence.textContent, frame: document.timeline.currentTime });
		note();
		new MutationObserver(note).observe(sentence, { childList: true });
	});
}

// tabTo goes to an element by the Tab key.
async function tabTo(page, seen, id) {
	for (let i = 0; i < 60; i++) {
		if ((await state(page)).focus === id) return;
		await page.keyboard.press("Tab");
	}
	seen.errors.push("the keyboard does not reach " + id);
}

// inspect measures what a page shows; inspectByAxe lets axe look at it.
async function inspect(page, seen) {
	const got = await page.evaluate(() => {
		const pressed = [...document.querySelectorAll("button, select, summary, input, fieldset label, nav a")].filter(e => e.checkVisibility());
		const box = e => (e.type === "checkbox" ? e.closest("label") : e).getBoundingClientRect();
		const words = e => { const r = document.createRange(); r.selectNodeContents(e); return r.getBoundingClientRect(); };
		const leaves = e => words(e).width > box(e).width - 2 * parseFloat(getComputedStyle(e).paddingLeft) + 1;
		return {
			wide: document.documentElement.scrollWidth - document.documentElement.clientWidth,
			small: pressed.filter(e => box(e).height < 44 || box(e).width < 44 || e.tagName === "BUTTON" && leaves(e))
				.map(e => `${e.tagName} ${e.id} ${e.textContent} ${box(e).width}x${box(e).height}`),
		};
	});
	seen.wide = Math.max(seen.wide, got.wide);
	seen.small.push(...got.small);
}

async function inspectByAxe(page, seen) {
	const { violations } = await page.evaluate(() => window.axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] }));
	seen.axe.push(...violations.map(v => `${v.id}: ${v.nodes.map(n => n.html.slice(0, 120)).join(" | ")}`));
}

const doings = {
	// Every scene in every language: its sentence, and the pixels of its picture.
	async scenes(page, seen) {
		seen.scenes = [];
		for (const language of ["en", "es"]) {
			await page.check("#" + language, { force: true });
			const n = await page.evaluate(() => document.getElementById("scene")?.options.length || 1);
			for (let i = 0; i < n; i++) {
				if (n > 1) await page.selectOption("#scene", String(i));
				await page.waitForFunction(i => document.querySelectorAll(".scene")[i].classList.contains("now"), i);
				await settled(page);
				const got = await page.evaluate(() => {
					const c = document.getElementById("canvas"), d = c.getContext("2d").getImageData(0, 0, c.width, c.height).data;
					let text = "";
					for (let i = 0; i < d.length; i += 8192) text += String.fromCharCode(...d.subarray(i, i + 8192));
					return { w: c.width, h: c.height, pixels: btoa(text), sentence: document.getElementById("sentence").textContent,
						title: document.querySelector(".scene.now h2").innerText };
				});
				got.pixels = createHash("sha256").update(Buffer.from(got.pixels, "base64")).digest("hex");
				seen.scenes.push({ language, number: i, ...got });
			}
		}
	},
	// What is too wide, what is too small to be pressed, whose words leave it, what axe finds:
	// as the page is at first, at a step of its routine, and with another answer there.
	async looks(page, seen, { v }) {
		Object.assign(seen, { wide: 0, small: [], axe: [] });
		await inspect(page, seen);
		if (v.plain) return; // nothing that has to wait can be asked of it
		await page.evaluate(axe);
		await inspectByAxe(page, seen);
		if (!await page.isVisible("#practise")) return;
		await page.click("#practise");
		await page.click("#other");
		await inspect(page, seen);
		await page.click("#answers button:first-child");
		await inspect(page, seen);
		await inspectByAxe(page, seen);
	},
	// The whole routine with a finger.
	async touch(page, seen) {
		await settled(page);
		seen.places = [];
		seen.heights = [];
		await page.tap("#practise");
		for (let i = 0; i < 100; i++) {
			seen.places.push((await state(page)).place);
			seen.heights.push(await page.evaluate(() => next.getBoundingClientRect().top - sentence.getBoundingClientRect().top));
			if (await page.isVisible("#over")) break;
			await page.tap("#next");
			await page.waitForFunction(was => place.textContent !== was || !over.hidden, seen.places.at(-1));
		}
		seen.over = await page.isVisible("#over");
		// Another answer, in three taps: the picture becomes what is seen then, and the step's again.
		await saw(page, seen, "step", told);
		await page.tap("#other");
		await page.tap("#answers button:first-child");
		await saw(page, seen, "heard", told);
		seen.meaning = await page.innerText("#meaning");
		await page.tap("#again");
		await saw(page, seen, "right", told);
		await page.tap("#leave");
		await page.reload();
		await live(page, seen);
		seen.ticked = await page.isChecked("#done");
		await page.tap("#empty");
		seen.emptied = !await page.isChecked("#done") && await page.evaluate(() => Object.keys(localStorage).length === 0);
	},
	// The routine by itself: all that is said of it.
	async runs(page, seen) {
		await page.tap("#practise");
		await utters(page);
		await page.tap("#run");
		await page.locator("#over").waitFor();
		seen.said = await page.evaluate(() => window.said);
	},
	// What plays by itself, until three more sentences have been said.
	async plays(page, seen) {
		await page.tap("#play");
		await utters(page);
		await page.waitForFunction(() => said.length > 3);
		seen.said = await page.evaluate(() => window.said);
	},
	// A hold is counted.
	async counts(page, seen) {
		await page.click("#practise");
		await settled(page);
		await page.click("#good");
		await page.waitForFunction(() => parseInt(document.getElementById("count").textContent) >= 2);
		seen.count = await page.innerText("#count");
	},
	// By keys alone: pull and cover.
	async keys(page, seen) {
		await settled(page);
		await saw(page, seen, "first");
		const to = id => tabTo(page, seen, id);
		await to("posture.deviation_prism");
		for (let i = 0; i < 12; i++) await page.keyboard.press("ArrowLeft");
		await saw(page, seen, "nearer");
		for (let i = 0; i < 24; i++) await page.keyboard.press("ArrowRight");
		await saw(page, seen, "farther");
		for (let i = 0; i < 12; i++) await page.keyboard.press("ArrowLeft");
		await saw(page, seen, "back");
		await to("right");
		await page.keyboard.down(" ");
		await saw(page, seen, "covered");
		await page.keyboard.up(" ");
		await saw(page, seen, "uncovered");
	},
	// By keys alone, the first steps of the routine.
	async steps(page, seen) {
		await tabTo(page, seen, "practise");
		await page.keyboard.press("Enter");
		await saw(page, seen, "step 1");
		await tabTo(page, seen, "next");
		await page.keyboard.press("Enter");
		await saw(page, seen, "step 2");
	},
	// What a reader of screens has to say, line by line.
	async aloud(page, seen, { session }) {
		await settled(page);
		const read = async () => {
			const { nodes } = await session.send("Accessibility.getFullAXTree");
			const said = new Set(["heading", "image", "slider", "combobox", "button", "checkbox", "radio", "progressbar", "timer", "status", "alert", "paragraph", "listitem", "region", "DisclosureTriangle"]);
			const below = n => (n.childIds || []).map(id => nodes.find(o => o.nodeId === id)).filter(c => c);
			const text = n => below(n).map(c => c.role?.value === "StaticText" ? c.name.value : text(c)).join("");
			const inOrder = n => [n, ...below(n).flatMap(inOrder)];
			const heard = [];
			for (const n of inOrder(nodes[0]).filter(n => !n.ignored && said.has(n.role.value))) {
				const { node } = await session.send("DOM.describeNode", { backendNodeId: n.backendDOMNodeId });
				const at = (node.attributes || []).indexOf("aria-valuetext"); // which the tree has as a number
				const value = at < 0 ? n.value?.value || "" : node.attributes[at + 1];
				heard.push([n.role.value, (n.name?.value || text(n)).trim(), value].filter(x => x !== "").join(": "));
			}
			return heard;
		};
		seen.aloud = [await read()];
		await page.click("#practise");
		await page.waitForFunction(() => place.textContent);
		await settled(page);
		seen.aloud.push(await read());
	},
	// Days are ticked where nothing can be kept.
	async ticks(page, seen) {
		seen.unkept = await page.isVisible("#unkept");
		await page.click("#done");
		seen.ticked = await page.isChecked("#done");
		await page.click("#empty");
		seen.emptied = !await page.isChecked("#done");
	},
	// The address names what shows, and what it names shows.
	async linked(page, seen) {
		seen.linked = [await page.title()];
		await page.selectOption("#scene", "1");
		await page.waitForFunction(() => document.querySelectorAll(".scene")[1].classList.contains("now"));
		seen.linked.push(await page.title(), await page.evaluate(() => location.hash));
		await page.goBack();
		await page.waitForFunction(() => !document.querySelectorAll(".scene")[1].classList.contains("now"));
		seen.linked.push(await page.title());
	},
	// A finger holds a cover.
	async holds(page, seen) {
		await settled(page);
		await saw(page, seen, "first");
		const box = await page.locator("[data-eye=left]").boundingBox();
		await page.mouse.move(box.x + 10, box.y + 10);
		await page.mouse.down();
		await saw(page, seen, "covered");
		await page.mouse.up();
		await saw(page, seen, "uncovered");
	},
	// A finger that begins on what is pulled, and goes up; then one that goes along.
	async swipes(page, seen, { session }) {
		await settled(page);
		await saw(page, seen, "first");
		const slider = page.locator("input[type=range]").first();
		const touch = (type, ...at) => session.send("Input.dispatchTouchEvent", { type, touchPoints: at });
		const go = async (from, dx, dy) => {
			await touch("touchStart", from);
			for (let i = 1; i <= 10; i++) await touch("touchMove", { x: from.x + i * dx, y: from.y + i * dy });
			await touch("touchEnd");
		};
		const along = async share => {
			const box = await slider.boundingBox();
			return { x: box.x + share * box.width, y: box.y + box.height / 2 };
		};
		await page.evaluate(() => { window.scrolled = new Promise(done => addEventListener("scrollend", () => done(scrollY), { once: true })); });
		await go(await along(0.1), 0, -20);
		if (!await page.evaluate(() => scrolled)) seen.errors.push("the page does not scroll");
		await settled(page);
		seen.states.scrolled = await state(page);
		await page.evaluate(() => scrollTo(0, 0));
		await page.waitForFunction(() => scrollY === 0);
		await go(await along(0.9), -15, 0);
		await saw(page, seen, "pulled");
	},
	// What a page without script, or with a broken one, still says, once what it says after a
	// while and, where it should, of itself has come.
	async still(page, seen, { v }) {
		if (v.says) await page.locator("#" + v.says).waitFor();
		while (!await page.evaluate(() => document.getAnimations().every(a => a.playState === "finished"))) await page.waitForTimeout(50);
		seen.text = await page.innerText("body");
		seen.pictures = await page.locator(".still svg").evaluateAll(all => all.filter(e => e.getBoundingClientRect().width > 20).length);
		seen.canvas = await page.isVisible("#canvas");
	},
	async spanish(page, seen) {
		await page.locator("label[lang=es]").click();
		seen.text = await page.innerText("body");
	},
	// What goes on, in numbers: seconds of the main thread for a frame of a pull, and idle.
	async speed(page, seen, { busy }) {
		await settled(page);
		await page.waitForTimeout(500);
		let before = await busy();
		await page.waitForTimeout(3000);
		seen.idle = (await busy() - before) / 3;
		before = await busy();
		const frames = await page.evaluate(async () => {
			const r = document.getElementById("posture.deviation_prism");
			for (let i = 0; i < 60; i++) {
				r.value = i % 20;
				r.dispatchEvent(new Event("input"));
				await new Promise(requestAnimationFrame);
			}
			return 60;
		});
		seen.pull = (await busy() - before) / frames;
		seen.memory = await page.evaluate(() => engineOfTest.memory.buffer.byteLength);
	},
	// The page as it is printed, on either paper.
	async prints(page, seen, { v }) {
		for (const format of ["A4", "Letter"]) await page.pdf({ path: `${v.prints}/${format}.pdf`, format, margin: { top: "15mm", bottom: "15mm", left: "15mm", right: "15mm" } });
	},
	async shot(page, seen, { v }) {
		await settled(page);
		await page.screenshot({ path: v.shot });
	},
};

// atOnce notes in a page what its sentence is as soon as it is live.
function atOnce() {
	new MutationObserver((_, observer) => {
		if (!document.documentElement.classList.contains("live")) return;
		window.saidAtOnce = document.getElementById("sentence").textContent;
		observer.disconnect();
	}).observe(document, { attributeFilter: ["class"], subtree: true });
}

// inFirefox opens a page in a Firefox, which puppeteer drives and Playwright does not. What
// is done there is put to it in the same words.
async function inFirefox(browser, v) {
	const page = await browser.newPage();
	await page.setViewport({ width: v.width, height: v.height, deviceScaleFactor: v.scale || 1 });
	await page.evaluateOnNewDocument(atOnce);
	const wait = page.waitForFunction.bind(page);
	return Object.assign(page, {
		check: s => page.$eval(s, e => e.click()),
		selectOption: (s, value) => page.select(s, value),
		waitForFunction: (f, arg, options) => wait(f, { polling: 50, timeout: patience, ...options }, arg),
		waitForTimeout: ms => new Promise(done => setTimeout(done, ms)),
	});
}

async function inChromium(browser, v) {
	const context = await browser.newContext({
		viewport: { width: v.width, height: v.height }, deviceScaleFactor: v.scale || 1, hasTouch: !!v.touch, isMobile: !!v.touch,
		javaScriptEnabled: !v.plain, colorScheme: v.dark ? "dark" : "light", reducedMotion: v.reduced ? "reduce" : "no-preference",
		locale: "en-GB",
	});
	const page = await context.newPage();
	await page.addInitScript(atOnce);
	await page.addInitScript(() => {
		const made = WebAssembly.instantiate;
		WebAssembly.instantiate = async (...all) => { const i = await made(...all); window.engineOfTest = i.exports || i.instance.exports; return i; };
	});
	if (v.forgetful) await page.addInitScript(() => {
		Object.defineProperty(window, "localStorage", { get() { throw new DOMException("not for a file", "SecurityError"); } });
	});
	return page;
}

// asked sets what only Chromium can be asked for: its clock, the size of its letters, its
// processor as that of a phone. The session is that in which this is asked.
async function asked(page, v) {
	const session = await page.context().newCDPSession(page);
	await session.send("Performance.enable", { timeDomain: "threadTicks" });
	if (v.font) await session.send("Page.setFontSizes", { fontSizes: { standard: v.font } });
	if (v.throttle) await session.send("Emulation.setCPUThrottlingRate", { rate: v.throttle });
	const busy = async () => (await session.send("Performance.getMetrics")).metrics.find(m => m.name === "TaskDuration").value;
	return { session, busy };
}

const visits = JSON.parse(readFileSync(process.argv[2], "utf8"));
const firefox = process.env.FIREFOX;
const browser = firefox
	? await puppeteer.launch({ browser: "firefox", executablePath: firefox, protocolTimeout: patience, timeout: patience })
	: await chromium.launch({ executablePath: process.env.CHROMIUM || "/usr/bin/chromium", args: ["--no-sandbox"], timeout: patience });
const found = [];
for (const v of visits) {
	const page = await (firefox ? inFirefox : inChromium)(browser, v);
	page.setDefaultTimeout(patience);
	const seen = { requests: [], errors: [] };
	page.on("request", r => { if (!/^(file|blob|data):/.test(r.url())) seen.requests.push(r.url()); });
	page.on("pageerror", e => seen.errors.push(String(e)));
	page.on("console", m => { if (m.type() === "error") seen.errors.push(m.text()); });
	const given = firefox ? {} : await asked(page, v);
	await page.goto("file://" + v.page + (v.at || ""));
	if (!v.plain && !v.dead) await live(page, seen);
	if (given.busy) seen.began = await given.busy();
	for (const what of v.does || []) await doings[what](page, seen, { v, ...given });
	found.push(seen);
	await page.close();
}
await browser.close();
console.log(JSON.stringify(found));
