// Things that are named in the picture: what holds the part, part zero, the tools where they begin to cut, the nearest passes, what was found.
import { lastAtMost } from "./geometry.js";
import { placeInSight, wayToEye } from "./in-sight.js";

/** Where a label may go that would stand on another one, nearest first. */
const around = [[0, 0], [0, -1], [0, 1], [1, 0], [-1, 0], [1, -1], [-1, -1], [1, 1], [-1, 1], [0, -2], [0, 2], [2, 0], [-2, 0], [1, -2], [-1, -2], [1, 2], [-1, 2], [0, 3], [0, -3], [0, 4]]
    .map(([aside, down]) => [aside * 26, down * 23]);

/** These stay where they are; the tip and what was chosen come and go, so the others do not make room for them. */
const fixed = new Set(["axis", "tip", "chosen"]);

const overlap = (a, b) => a.x < b.x + b.wide && b.x < a.x + a.wide && a.y < b.y + b.high && b.y < a.y + a.high;

const drawing = "http://www.w3.org/2000/svg";

export class Labels {
    constructor(box, frame, path) {
        const leaders = document.createElementNS(drawing, "svg");
        Object.assign(this, { box, leaders, size: frame.size, named: [] });
        box.append(leaders);
        const { scene } = frame;
        const boxOf = solid => ({ min: frame.place(solid.min), max: frame.place(solid.max) });
        this.solids = [...scene.stock, ...scene.holding].map(boxOf);
        this.#zeros(frame);
        this.#tools(frame, path);
        for (const pass of scene.passes)
            this.#name(frame.place(pass.tip), String(pass.number), "pass", 8, 4).label.title = pass.holding;
        this.#findings(frame, path);
        scene.holding.forEach((held, i) =>
            this.#name({ x: 0, y: 0, z: 0 }, held.name, "held", 12, -30).solid = this.solids[scene.stock.length + i]);
        this.tip = this.#name({ x: 0, y: 0, z: 0 }, "", "tip", -9, -9);
        this.chosen = this.#name({ x: 0, y: 0, z: 0 }, "", "chosen", 12, 10);
        this.choose(null);
    }

    #name(at, what, kind, left = 6, top = -22) {
        const label = document.createElement("span");
        label.className = kind;
        label.append(what);
        this.box.append(label);
        const named = { at, label, left, top, kind };
        if (!fixed.has(kind))
            named.leader = this.leaders.appendChild(document.createElementNS(drawing, "path"));
        this.named.push(named);
        return named;
    }

    #tools(frame, path) {
        const seen = new Set();
        for (let i = 1; i < path.points; i++)
            if ((path.kind[i] & 255) === 2 && !seen.has(path.tool[i])) {
                seen.add(path.tool[i]);
                this.#name(frame.point(path, i - 1), String(path.tool[i]), "tool", 8, -26).label.style.borderColor =
                    frame.scene.tools.find(t => t.number === path.tool[i])?.colour ?? "#000";
            }
    }

    #findings(frame, path) {
        for (const level of ["stop", "check"])
            for (const finding of frame.scene.findings.filter(f => f.level === level && f.block !== null).slice(0, 15)) {
                const i = lastAtMost(path.block, finding.block);
                if (i < 0)
                    continue;
                const mark = document.getElementById("mark-" + level).content.querySelector("svg").cloneNode(true);
                this.#name(frame.point(path, i), mark, `finding-mark level level-${level}`, -24, 2).label.title = finding.id;
            }
    }

    #zeros(frame) {
        const arm = frame.size / 12;
        for (const zero of frame.scene.zeros) {
            const at = frame.place(zero.at);
            this.#name(at, zero.workOffset, "zero", -40, -10);
            for (const [axis, x, y, z] of [["X", arm, 0, 0], ["Y", 0, arm, 0], ["Z", 0, 0, arm]])
                this.#name({ x: at.x + x, y: at.y + y, z: at.z + z }, axis, "axis", 2, -18).base = at;
        }
    }

    /** Names a place that somebody chose; null: none any more. */
    choose(at, words = "") {
        this.chosen.label.hidden = at === null;
        this.chosen.label.textContent = words;
        this.chosen.at = at ?? this.chosen.at;
    }

    /** @param onPage place => [right, down] in pixels from the upper left */
    put(onPage) {
        this.#findInSight(onPage);
        // sizes are asked for all at once: each question after a change would have the page laid out anew
        for (const mark of this.named)
            if (!mark.wide)
                [mark.wide, mark.high] = [mark.label.offsetWidth, mark.label.offsetHeight];
        const taken = [];
        for (const mark of this.named.filter(m => m.kind === "axis"))
            this.#putAxis(mark, onPage, taken);
        const seenFirst = (a, b) => a.kind === b.kind ? (a.behind ?? false) - (b.behind ?? false) : 0;
        for (const mark of this.named.filter(m => m.kind !== "axis").sort(seenFirst)) {
            const [right, down] = onPage(mark.at);
            const box = { x: right + mark.left, y: down + mark.top, wide: mark.wide, high: mark.high };
            // a name is read to its end, also of something at the edge
            const inside = mark.kind === "held" && right >= 0 && right <= this.box.clientWidth
                ? x => Math.max(0, Math.min(x, this.box.clientWidth - box.wide)) : x => x;
            box.x = inside(box.x);
            if (!fixed.has(mark.kind)) {
                const places = around.map(([x, y]) => ({ ...box, x: inside(box.x + x), y: box.y + y }));
                const free = places.find(place => !taken.some(t => overlap(t, place))) ?? box;
                [box.x, box.y] = [free.x, free.y];
                taken.push(box);
                lead(mark, [right, down], box);
            }
            move(mark, box);
        }
    }

    /** What is hidden behind something else is named all the same, and that it is behind. */
    #findInSight(onPage) {
        const way = wayToEye(onPage);
        for (const mark of this.named.filter(m => m.solid)) {
            const { solid } = mark;
            const place = placeInSight(solid, this.solids.filter(s => s !== solid), way, this.size);
            if (mark.behind !== (place === null))
                mark.wide = 0;
            mark.behind = place === null;
            mark.label.classList.toggle("behind", mark.behind);
            mark.at = place ?? { x: (solid.min.x + solid.max.x) / 2, y: (solid.min.y + solid.max.y) / 2, z: (solid.min.z + solid.max.z) / 2 };
        }
    }

    /** An axis that is looked along has no name. */
    #putAxis(mark, onPage, taken) {
        const [[right, down], base] = [onPage(mark.at), onPage(mark.base)];
        const box = { x: right + mark.left, y: down + mark.top, wide: mark.wide, high: mark.high };
        mark.label.hidden = Math.hypot(base[0] - right, base[1] - down) < 12;
        if (!mark.label.hidden)
            taken.push(box);
        move(mark, box);
    }
}

function move(mark, box) {
    mark.label.style.transform = `translate(${box.x.toFixed(1)}px, ${box.y.toFixed(1)}px)`;
}

/** A line from the thing to its name wherever the name does not stand beside it, and a dot on what holds the part. */
function lead(mark, [right, down], box) {
    const end = [Math.max(box.x, Math.min(right, box.x + box.wide)), Math.max(box.y, Math.min(down, box.y + box.high))];
    const far = Math.hypot(end[0] - right, end[1] - down);
    const dotted = mark.behind === false;
    const line = far > (dotted ? 6 : 20) ? `M${right.toFixed(1)} ${down.toFixed(1)}L${end[0].toFixed(1)} ${end[1].toFixed(1)}` : "";
    const dot = dotted ? `M${(right - 3).toFixed(1)} ${down.toFixed(1)}a3 3 0 1 0 6 0a3 3 0 1 0 -6 0` : "";
    mark.leader.setAttribute("d", line + dot);
}
