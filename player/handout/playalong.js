"use strict";
const $ = id => document.getElementById(id);
const score = JSON.parse($("score").textContent), counts = score.counts, track = $("track"), page = document.body;
const figures = [...document.querySelectorAll(".figure")];
const still = matchMedia("(prefers-reduced-motion: reduce)");
const rates = [0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1, 1.1, 1.2];
const ahead = 0.008; // seconds: what is drawn now is seen half a frame later
let now = -1, looped = -1, lit = [];

// find returns the last count that has begun by a time, or the first.
function find(time) {
	let from = 0, to = counts.length;
	while (to - from > 1) {
		const half = (from + to) >> 1;
		if (counts[half].at <= time) from = half; else to = half;
	}
	return from;
}

// cell returns what a partner dances in a row of the chart.
function cell(count, partner) {
	const td = count && figures[count.figure - 1].querySelector(`[data-step="${count.step}"] .${partner}`);
	return td ? td.textContent : "";
}

function following(i) { // the count of the next step
	let k = i + 1;
	while (k < counts.length && (!counts[k].step || counts[k].turn === counts[i].turn && counts[k].step === counts[i].step)) k++;
	return counts[k];
}

// show lights a count.
function show(i) {
	if (i === now) return;
	const count = counts[i], before = counts[now], figure = figures[count.figure - 1];
	now = i;
	if (count.said) $("count").textContent = count.said;
	if (!before || before.figure !== count.figure) {
		$("name").textContent = figure.querySelector("h2").textContent;
		for (const f of figures) f.classList.toggle("danced", f === figure);
	}
	if (!before || before.line !== count.line)
		for (const a of document.querySelectorAll("[data-line]")) a.setAttribute("aria-current", a.dataset.line === String(count.line));
	const next = following(i);
	for (const partner of ["leader", "follower"]) {
		if (!$(partner + "-now")) continue;
		$(partner + "-now").textContent = count.step ? cell(count, partner) : "ready";
		$(partner + "-next").textContent = next ? "then " + (cell(next, partner) || "–") : "";
	}
	for (const element of lit) element.classList.remove("lit");
	lit = count.step ? [...figure.querySelectorAll(`[data-step="${count.step}"], .step-${count.step}`)] : [];
	for (const element of lit) element.classList.add("lit");
	say(count, before);
}

// say tells a screen reader the count; while the track holds, also the steps.
function say(count, before) {
	let words = count.said;
	if (!before || before.turn !== count.turn) words = $("name").textContent + ". " + words;
	if (track.paused && count.step)
		for (const partner of ["leader", "follower"])
			if ($(partner + "-now") && page.dataset.shown !== (partner === "leader" ? "follower" : "leader")) words += `; ${partner}: ${cell(count, partner)}`;
	if (words) $("spoken").textContent = words;
}

// move puts feet and bodies where they are at a time.
function move(time) {
	if (!score.poses) return;
	const count = counts[now], next = counts[now + 1];
	const until = next ? next.at : score.end, to = next && next.beat > count.beat ? next.beat : score.last;
	const part = Math.min(Math.max((time - count.at) / (until - count.at), 0), 1);
	const beat = still.matches || time < count.at ? count.beat : count.beat + part * (to - count.beat);
	const at = Math.min(Math.max((beat - score.first) * score.each, 0), score.poses.length - 1);
	const from = score.poses[Math.floor(at)], then = score.poses[Math.ceil(at)];
	const p = from.map((x, k) => x + (then[k] - x) * (at % 1));
	const x = (p[0] + p[13]) / 2, y = (p[1] + p[14]) / 2;
	$("hall").setAttribute("transform", `rotate(${score.up}) translate(${-x},${-y})`);
	$("grid").setAttribute("transform", `translate(${100 * Math.round(x / 100)},${100 * Math.round(y / 100)})`);
	["leader", "follower"].forEach((partner, q) => {
		if (!$(partner + "-body")) return;
		const k = 13 * q;
		$(partner + "-body").setAttribute("transform", `translate(${p[k]},${p[k + 1]}) rotate(${p[k + 2]})`);
		["left", "right"].forEach((side, f) => {
			const j = k + 3 + 5 * f, foot = $(partner + "-" + side);
			foot.setAttribute("transform", `translate(${p[j]},${p[j + 1]}) rotate(${p[j + 2]}) scale(${1 + p[j + 3] / 700})`);
			foot.setAttribute("opacity", 0.45 + 0.55 * p[j + 4] / 100);
		});
	});
}

// draw shows the moment that is heard.
function draw() {
	let time = track.currentTime;
	if (looped >= 0 && !track.seeking) {
		const last = counts.findLastIndex(c => c.turn === looped), end = last + 1 < counts.length ? counts[last + 1].at : score.end;
		if (time >= end) go(first(looped)), time = track.currentTime;
	}
	show(find(time + ahead * track.playbackRate));
	move(time);
}

function frame() {
	draw();
	if (!track.paused) requestAnimationFrame(frame);
}

function first(turn) { return Math.max(counts.findIndex(c => c.turn === turn && c.step), 0); }

function go(i) {
	track.currentTime = counts[Math.min(Math.max(i, 0), counts.length - 1)].at;
	if (looped >= 0) looped = counts[find(track.currentTime)].turn;
}

function setTempo(rate) {
	track.playbackRate = track.defaultPlaybackRate = rate;
	track.preservesPitch = true;
	$("tempo").textContent = Math.round(100 * rate) + " %";
	$("half").setAttribute("aria-pressed", rate === 0.5);
}

const tempoBy = n => setTempo(rates[Math.min(Math.max(rates.indexOf(track.playbackRate) + n, 0), rates.length - 1)]);
const does = {
	play() { if (track.paused) track.play(); else track.pause(); },
	back() { go(now - 1); },
	on() { go(now + 1); },
	slower() { tempoBy(-1); },
	faster() { tempoBy(1); },
	half() { setTempo(track.playbackRate === 0.5 ? 1 : 0.5); },
	repeat() {
		looped = looped < 0 ? counts[now].turn : -1;
		$("repeat").setAttribute("aria-pressed", looped >= 0);
	},
	partner() {
		if (!$("partner")) return;
		const shown = {undefined: "leader", leader: "follower"}[page.dataset.shown];
		if (shown) page.dataset.shown = shown; else delete page.dataset.shown;
		$("partner").textContent = {leader: "Leader only", follower: "Follower only"}[shown] || "Both partners";
	},
};
const keys = {" ": "play", ArrowLeft: "back", ArrowRight: "on", "-": "slower", "−": "slower", "+": "faster", h: "half", r: "repeat", s: "partner"};

addEventListener("keydown", e => {
	const own = e.target.closest("button, a, audio"), name = keys[e.key];
	if (e.ctrlKey || e.altKey || e.metaKey || !name || own && e.key === " ") return;
	e.preventDefault();
	if (e.shiftKey && name === "back") go(first(counts[now].turn - 1));
	else if (e.shiftKey && name === "on") go(first(Math.min(counts[now].turn + 1, counts[counts.length - 1].turn)));
	else does[name]();
});
addEventListener("click", e => {
	const button = e.target.closest("button"), line = e.target.closest("[data-line]"), row = e.target.closest("[data-step]");
	if (button) does[button.id]();
	if (line) {
		e.preventDefault();
		go(counts.findIndex(c => c.step && String(c.line) === line.dataset.line));
	}
	if (row) go(counts.findIndex(c => c.turn === counts[now].turn && String(c.step) === row.dataset.step));
});
for (const event of ["play", "pause", "ended"]) track.addEventListener(event, () => { $("play").textContent = track.paused ? "Play" : "Hold"; });
track.addEventListener("play", () => requestAnimationFrame(frame));
track.addEventListener("seeking", draw);

// A page's own blob can be sought in by browsers that can't seek in an address with data.
const [type, data] = track.src.slice("data:".length).split(";base64,");
track.src = URL.createObjectURL(new Blob([Uint8Array.from(atob(data), c => c.charCodeAt(0))], {type}));
track.hidden = true;
$("live").hidden = false;
$("figures").after($("lines")); // the figure that is danced comes first
page.classList.add("follows");
draw();
