// The path page: keeps block, picture, text and figures together. One number counts: the executed block.
import { endOfBlock, lastAtMost, pointAtTime, read, timeAt, tipAtTime } from "./geometry.js";
import { Listing } from "./listing.js";

const by = id => document.getElementById(id);
const view = by("path-view");
const told = by("path-told");
const scrub = by("path-block");

async function start() {
    const base = view.dataset.base;
    const scene = JSON.parse(by("path-scene").textContent);
    const state = { block: Number(view.dataset.block), playing: false, rate: scene.rates[0] ?? null };
    const figures = new Figures();
    const beside = new Beside(scene);
    const listing = new Listing(by("path-text"), (file, from, count) => lines(base, file, from, count), (file, line) => beside.at(file, line), chooseLine);
    let whole = null;
    let near = null;
    let picture = null;
    const bytes = fetchBytes(`${base}/whole.bin`);
    const page = import("./picture.js");
    askAbout(state.block);
    try {
        whole = read(await bytes);
    } catch (why) {
        tell(`The path could not be fetched: ${why.message} The figures below are worked out all the same.`);
        withoutPicture();
    }
    if (whole) {
        try {
            const { Picture } = await page;
            picture = new Picture(by("path-canvas"), by("path-labels"), scene, whole);
            picture.drawn = () => view.dataset.state = "drawn";
            view.dataset.points = whole.points;
            tell(drawnWords(whole));
        } catch {
            tell("This browser does not draw in space (no WebGL). The flat views stand in its place; text and figures go on as they are.");
            withoutPicture();
        }
    }
    wire();
    goTo(state.block);

    function withoutPicture() {
        view.dataset.state = "flat";
        by("path-stage").hidden = true;
        const flat = by("path-flat");
        for (const name of ["top", "front", "side", "isometric", "travel"]) {
            const img = document.createElement("img");
            [img.src, img.alt] = [`${flat.dataset.src}${name}.svg`, `The path, ${name === "travel" ? "in the machine's travel" : "from the " + name}`];
            flat.append(img);
        }
        for (const group of document.querySelectorAll("[data-from], [data-show]"))
            group.disabled = true;
    }

    /** What the picture moves along: every segment around here, else the outline of the whole. */
    function path() {
        return near && state.block >= near.firstBlock && state.block <= near.lastBlock ? near : whole;
    }

    function goTo(block, exact = true) {
        state.block = Math.min(Number(scrub.max), Math.max(1, block));
        scrub.value = state.block;
        by("path-number").textContent = state.block;
        view.dataset.block = state.block;
        if (whole && whole.points > 0) {
            const here = path();
            const i = endOfBlock(here, state.block);
            const tip = { at: [here.x[i], here.y[i], here.z[i]], tool: here.tool[i] };
            if (exact) {
                picture?.goTo(tip, state.block, here);
                if (state.rate)
                    state.time = timeAt(whole, endOfBlock(whole, state.block), state.rate);
            }
            showTime();
            wantNear();
        }
        askAbout(state.block);
    }

    function chooseLine(file, line, step = 1) {
        ask(`${base}/block.json?line=${line}${file === null ? "" : "&file=" + encodeURIComponent(file)}`).then(answer => {
            if (answer.refused) {
                tell(answer.refused);
                return;
            }
            // upwards over comments the next block behind the line is the one that is shown already
            const back = step < 0 && answer.block >= state.block ? state.block - 1 : answer.block;
            stop();
            goTo(back);
        });
    }

    /** One question at a time; the newest waits for the one before. */
    function askAbout(block) {
        state.asking = block;
        if (state.isAsking)
            return;
        state.isAsking = true;
        setTimeout(async () => {
            const asked = state.asking;
            const answer = await ask(`${base}/block.json?block=${asked}`);
            if (!answer.refused) {
                figures.show(answer, state.playing);
                beside.show(answer.file, answer.line);
                await listing.show(answer.file, answer.line);
                view.dataset.said = answer.block;
            } else
                tell(answer.refused);
            state.isAsking = false;
            if (state.asking !== asked)
                askAbout(state.asking);
        }, state.playing ? 250 : 60);
    }

    function wantNear() {
        if (!whole || whole.complete || !picture || state.isFetching)
            return;
        // asked for once at a place, whatever came of it
        const room = near ? (near.lastBlock - near.firstBlock) / 4 : 0;
        if (state.nearTo !== undefined && Math.abs(state.block - state.nearTo) <= room)
            return;
        state.isFetching = true;
        setTimeout(async () => {
            try {
                state.nearTo = state.block;
                near = read(await fetchBytes(`${base}/near.bin?block=${state.nearTo}`));
                picture.showNear(near);
            } catch (why) {
                tell(`The path around this block could not be fetched: ${why.message}`);
            }
            state.isFetching = false;
            if (!state.playing)
                goTo(state.block);
        }, 120);
    }

    function jump(kind, way) {
        const places = kind === "stops" ? scene.stops : [...new Set(scene.findings.map(f => f.block).filter(b => b !== null))].sort((a, b) => a - b);
        const next = way > 0 ? places.find(b => b > state.block) : places.filter(b => b < state.block).at(-1);
        if (next === undefined) {
            tell(`There is no ${kind === "stops" ? "stop" : "finding"} ${way > 0 ? "behind" : "before"} this block.`);
            return;
        }
        stop();
        goTo(next);
    }

    function showTime() {
        if (!state.rate || !whole || whole.points === 0)
            return;
        by("path-time").textContent = clock(state.time ?? 0);
        by("path-whole").textContent = clock(timeAt(whole, whole.points - 1, state.rate));
    }

    function play() {
        if (state.playing || !whole || whole.points === 0 || !state.rate)
            return;
        const end = timeAt(whole, whole.points - 1, state.rate);
        if ((state.time ?? 0) >= end)
            goTo(1);
        state.playing = true;
        by("path-play").textContent = "Pause";
        by("path-play").setAttribute("aria-pressed", "true");
        let last = performance.now();
        const step = now => {
            if (!state.playing)
                return;
            state.time = Math.min(end, (state.time ?? 0) + (now - last) / 1000 * Number(by("path-speed").value));
            last = now;
            const here = path();
            const tip = inside(here) ? tipAtTime(here, state.time, state.rate) : tipAtTime(whole, state.time, state.rate);
            const along = inside(here) ? here : whole;
            picture?.goTo({ at: tip.at, tool: along.tool[tip.point] }, tip.block, along);
            if (tip.block !== state.block)
                goTo(tip.block, false);
            showTime();
            if (state.time >= end)
                stop();
            else
                requestAnimationFrame(step);
        };
        requestAnimationFrame(step);
    }

    function inside(here) {
        return here.points > 1 && timeAt(here, 0, state.rate) <= state.time && timeAt(here, here.points - 1, state.rate) >= state.time;
    }

    function stop() {
        if (!state.playing)
            return;
        state.playing = false;
        by("path-play").textContent = "Play";
        by("path-play").setAttribute("aria-pressed", "false");
        askAbout(state.block);
    }

    function wire() {
        scrub.addEventListener("input", () => { stop(); goTo(Number(scrub.value)); });
        scrub.addEventListener("change", () => history.replaceState(null, "", `${view.dataset.page}?block=${state.block}`));
        view.addEventListener("click", event => {
            const on = event.target.closest("button, a[data-block]");
            if (!on)
                return;
            if (on.dataset.from)
                picture?.from(on.dataset.from);
            else if (on.dataset.go) {
                stop();
                goTo(state.block + Number(on.dataset.go));
            } else if (on.dataset.to)
                jump(on.dataset.to, Number(on.dataset.way));
            else if (on.id === "path-play")
                state.playing ? stop() : play();
            else if (on.dataset.block && !event.ctrlKey && !event.metaKey && !event.shiftKey) {
                event.preventDefault();
                stop();
                goTo(Number(on.dataset.block));
            }
        });
        view.addEventListener("change", event => {
            if (event.target.dataset.show)
                picture?.show(event.target.dataset.show, event.target.checked);
            else if (event.target.id === "path-rate") {
                state.rate = scene.rates[Number(event.target.value)];
                if (whole)
                    state.time = timeAt(whole, endOfBlock(whole, state.block), state.rate);
                showTime();
            }
        });
    }
}

/** Tip, distance-to-go and modal words of the block. */
class Figures {
    show(at, quiet) {
        document.querySelector("[data-offset]").textContent = at.workOffset;
        this.#row("path-at", at.at);
        this.#row("path-togo", at.toGo);
        by("path-raised").lastElementChild.textContent = at.toGoRaised;
        by("path-modal").replaceChildren(...[at.tool > 0 ? `T${at.tool}` : "no tool yet", ...at.modal].map(word => element("span", word)));
        by("path-notes").replaceChildren(...at.notes.map(note => element("li", note)));
        if (!quiet)
            by("path-words").textContent = at.words;
    }

    #row(id, values) {
        const cells = by(id).querySelectorAll("td");
        values.forEach((value, i) => cells[i].textContent = value);
    }
}

/** What was found at a line: short at the line itself, in full below the text. */
class Beside {
    constructor(scene) {
        this.byPlace = new Map();
        for (const finding of scene.findings) {
            const at = `${finding.file ?? ""}\n${finding.line}`;
            this.byPlace.set(at, [...(this.byPlace.get(at) ?? []), finding]);
        }
    }

    at(file, line) {
        const found = this.byPlace.get(`${file ?? ""}\n${line}`);
        if (!found)
            return null;
        const worst = ["stop", "check", "note"].find(level => found.some(f => f.level === level));
        return { worst, element: () => {
            const marks = element("span", "");
            marks.className = "marks";
            const first = found.find(f => f.level === worst);
            marks.append(mark(worst), element("span", found.length > 1 ? `${first.id} + ${found.length - 1}` : first.id));
            return marks;
        } };
    }

    show(file, line) {
        const found = this.byPlace.get(`${file ?? ""}\n${line}`) ?? [];
        by("path-beside").replaceChildren(...found.map(f => {
            const note = document.createElement("div");
            note.className = `finding finding-${f.level}`;
            const head = element("p", "");
            head.className = "finding-head";
            const link = element("a", f.id);
            link.href = `/findings/${f.id}`;
            head.append(mark(f.level), link);
            const remedy = element("p", f.remedy);
            remedy.className = "finding-remedy";
            note.append(head, element("p", f.message), remedy);
            return note;
        }));
    }
}

function mark(level) {
    return by("mark-" + level).content.cloneNode(true);
}

function element(name, text) {
    const made = document.createElement(name);
    made.textContent = text;
    return made;
}

function tell(words) {
    told.removeAttribute("data-waiting");
    told.textContent = words;
}

function drawnWords(path) {
    const words = [path.complete ? `All ${path.segments} segments are drawn.`
        : `${path.segments} segments: the outline of the whole is drawn, reaching exactly as far, and every segment around the block that you are at.`];
    if (path.leftOut > 0)
        words.push(`${path.leftOut} are not drawn: they rest on a register that the setup does not give.`);
    if (path.lastBlock < path.blocks && !path.complete && path.points >= 400_000)
        words.push(`The outline ends at block ${path.lastBlock}.`);
    return words.join(" ");
}

function clock(seconds) {
    const whole = Math.floor(seconds);
    const two = n => String(n).padStart(2, "0");
    const minutes = Math.floor(whole / 60);
    return minutes < 60 ? `${minutes}:${two(whole % 60)}` : `${Math.floor(minutes / 60)}:${two(minutes % 60)}:${two(whole % 60)}`;
}

async function fetchBytes(address) {
    const answer = await fetch(address);
    if (!answer.ok)
        throw new Error(await refusal(answer));
    return answer.arrayBuffer();
}

async function lines(base, file, from, count) {
    const answer = await ask(`${base}/lines.json?from=${from}&count=${count}${file === null ? "" : "&file=" + encodeURIComponent(file)}`);
    if (answer.refused)
        return null;
    by("path-file").textContent = file ?? by("path-text").dataset.main;
    by("path-lines").textContent = `${answer.of} lines`;
    return answer;
}

async function ask(address) {
    try {
        const answer = await fetch(address);
        return answer.ok ? await answer.json() : { refused: await refusal(answer) };
    } catch {
        return { refused: "The server does not answer. What is on this page stays; try again when it is back." };
    }
}

async function refusal(answer) {
    try {
        return (await answer.json()).detail;
    } catch {
        return `the server answered ${answer.status}.`;
    }
}

if (view)
    start();
