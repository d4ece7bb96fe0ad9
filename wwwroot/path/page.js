// The path page: keeps block, picture, text and figures together. One number counts: the executed block.
import { ask, fetchBytes } from "./ask.js";
import { Beside, Figures } from "./figures.js";
import { endOfBlock, read, timeAt, tipAtTime } from "./geometry.js";
import { Listing } from "./listing.js";
import { Stage } from "./stage.js";

const by = id => document.getElementById(id);
const view = by("path-view");
const told = by("path-told");
const scrub = by("path-block");

/** So many of the passes under a press are gone through, the front ones. */
const mostPressed = 5;

async function start() {
    const base = view.dataset.base;
    const scene = JSON.parse(by("path-scene").textContent);
    const state = { block: Number(view.dataset.block), playing: false, rate: scene.rates[0] ?? null };
    const figures = new Figures();
    const beside = new Beside(scene);
    const listing = new Listing(by("path-text"), (file, from, count) => lines(base, file, from, count), (file, line) => beside.at(file, line), chooseLine);
    let whole = null;
    let near = null;
    let stage = null;
    const bytes = fetchBytes(`${base}/whole.bin`);
    askAbout(state.block);
    wire();
    try {
        whole = read(await bytes);
    } catch (why) {
        tell(`The path could not be fetched: ${why.message} The figures below are worked out all the same.`);
        withoutPicture();
        return;
    }
    stage = new Stage(scene, whole, choosePressed);
    view.dataset.points = whole.points;
    for (const box of view.querySelectorAll("[data-show]"))
        stage.show(box.dataset.show, box.checked);
    if (view.querySelector("[data-show=ascut]")?.checked)
        showAsCut(true);
    goTo(state.block);
    const sketched = await stage.first();
    if (sketched) {
        performance.mark("first-picture");
        view.dataset.state = "sketched";
        tell(drawnWords(whole));
    }
    let module = null;
    try {
        module = await import("./picture.js");
        await stage.inSpace(module);
        view.dataset.state = "drawn";
        if (!sketched)
            tell(drawnWords(whole));
    } catch (why) {
        console.warn("No picture in space:", why);
        withoutSpace(sketched, module === null ? "The script that draws in space did not come" : "This browser does not draw in space (no WebGL)");
    }

    function withoutSpace(sketched, why) {
        if (!sketched) {
            tell(`${why}. The flat views stand in its place; text and figures go on as they are.`);
            withoutPicture();
            return;
        }
        stage.stayFlat();
        for (const box of view.querySelectorAll("[data-space]"))
            box.disabled = true;
        view.dataset.state = "plain";
        tell(`${drawnWords(whole)} ${why}: the picture shows one side at a time, which the buttons choose. It cannot be turned freely, and the stock as cut is not in it: that is on the job's page.`);
    }

    function withoutPicture() {
        stage = null;
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
    function path(block = state.block) {
        return near && block >= near.firstBlock && block <= near.lastBlock ? near : whole;
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
                stage?.goTo(tip, state.block, here);
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
        if (!whole || whole.complete || !stage || state.isFetching)
            return;
        // asked for once at a place, whatever came of it
        const room = near ? (near.lastBlock - near.firstBlock) / 4 : 0;
        if (state.nearTo !== undefined && Math.abs(state.block - state.nearTo) <= room)
            return;
        state.isFetching = true;
        setTimeout(async () => {
            try {
                await fetchNear(state.block);
            } catch (why) {
                tell(`The path around this block could not be fetched: ${why.message}`);
            }
            state.isFetching = false;
            if (!state.playing)
                goTo(state.block);
        }, 120);
    }

    async function showAsCut(on) {
        by("path-ascut").hidden = !on;
        if (!on || state.isCut)
            return;
        state.isCut = true;
        try {
            const [{ readAsCut }, bytes] = await Promise.all([import("./as-cut.js"), fetchBytes(`${base}/as-cut.bin`)]);
            stage?.setAsCut(readAsCut(bytes));
            view.dataset.cut = "there";
        } catch (why) {
            state.isCut = false;
            tell(`The stock as cut could not be fetched: ${why.message}`);
        }
    }

    async function fetchNear(block) {
        state.nearTo = block;
        near = read(await fetchBytes(`${base}/near.bin?block=${block}`));
        stage?.showNear(near);
    }

    /** Of what lies under a press the front one; pressed again, the next one behind it. */
    async function choosePressed(passes, { x, y }) {
        if (passes.length === 0) {
            tell("No line of the path is within reach of that press.");
            return;
        }
        // of a dense surface many passes lie under one press: nobody goes through them all
        const few = passes.slice(0, mostPressed);
        const again = state.pressed && Math.hypot(x - state.pressed.x, y - state.pressed.y) < 5 ? few.findIndex(p => p.block === state.block) : -1;
        const place = (again + 1) % few.length;
        let hit = few[place];
        state.pressed = { x, y };
        stop();
        if (hit.since < hit.block - 1 && !whole.complete) {
            try {
                await fetchNear(hit.block);
                hit = stage.nearestAt(near, x, y, hit.since, hit.block) ?? hit;
            } catch (why) {
                tell(`The path around this block could not be fetched: ${why.message}`);
            }
        }
        const here = path(hit.block);
        const i = endOfBlock(here, hit.block);
        const name = here.kind[i] >> 8 === 0 ? `block ${hit.block}, line ${here.line[i]}` : `block ${hit.block}`;
        stage.choose(hit.block, hit.at, name);
        goTo(hit.block);
        history.replaceState(null, "", `${view.dataset.page}?block=${hit.block}`);
        tell(`Pressed: ${name}.${whichOf(passes.length, few.length, place)}`);
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
            stage?.goTo({ at: tip.at, tool: along.tool[tip.point] }, tip.block, along);
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
                stage?.from(on.dataset.from);
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
            if (event.target.dataset.show) {
                stage?.show(event.target.dataset.show, event.target.checked);
                if (event.target.dataset.show === "ascut")
                    showAsCut(event.target.checked);
            }
            else if (event.target.id === "path-rate") {
                state.rate = scene.rates[Number(event.target.value)];
                if (whole)
                    state.time = timeAt(whole, endOfBlock(whole, state.block), state.rate);
                showTime();
            }
        });
    }
}

function tell(words) {
    told.removeAttribute("data-waiting");
    told.textContent = words;
}

function whichOf(all, few, place) {
    if (all === 1)
        return "";
    return all === few ? ` ${place + 1} of ${all} passes that lie there; press again for the next.`
        : ` ${place + 1} of the ${few} passes in front; press again for the next. ${all - few} more lie behind them: zoom in to tell them apart.`;
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

async function lines(base, file, from, count) {
    const answer = await ask(`${base}/lines.json?from=${from}&count=${count}${file === null ? "" : "&file=" + encodeURIComponent(file)}`);
    if (answer.refused)
        return null;
    by("path-file").textContent = file ?? by("path-text").dataset.main;
    by("path-lines").textContent = `${answer.of} lines`;
    return answer;
}

if (view)
    start();
