// Things that are named in the picture: what holds the part, part zero, the tools where they begin to cut, the nearest passes, what was found.
import { lastAtMost } from "./geometry.js";

/** Where a label may go that would stand on another one, nearest first. */
const around = [[0, 0], [0, -1], [0, 1], [1, 0], [-1, 0], [1, -1], [-1, -1], [1, 1], [-1, 1], [0, -2], [0, 2], [2, 0], [-2, 0], [1, -2], [-1, -2], [1, 2], [-1, 2], [0, 3], [0, -3], [0, 4]]
    .map(([aside, down]) => [aside * 26, down * 23]);

/** These stay where they are; the tip and what was chosen come and go, so the others do not make room for them. */
const fixed = new Set(["axis", "tip", "chosen"]);

const overlap = (a, b) => a.x < b.x + b.wide && b.x < a.x + a.wide && a.y < b.y + b.high && b.y < a.y + a.high;

export class Labels {
    constructor(box, frame, path) {
        Object.assign(this, { box, named: [] });
        const { scene } = frame;
        this.#zeros(frame);
        this.#tools(frame, path);
        for (const pass of scene.passes)
            this.#name(frame.place(pass.tip), String(pass.number), "pass", 8, 4).label.title = pass.holding;
        this.#findings(frame, path);
        for (const held of scene.holding)
            this.#name(frame.place({ x: (held.min.x + held.max.x) / 2, y: held.min.y, z: held.min.z }), held.name, "held", -20, 4);
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
        // sizes are asked for all at once: each question after a change would have the page laid out anew
        for (const mark of this.named)
            if (!mark.wide)
                [mark.wide, mark.high] = [mark.label.offsetWidth, mark.label.offsetHeight];
        const taken = [];
        for (const mark of this.named.filter(m => m.kind === "axis"))
            this.#putAxis(mark, onPage, taken);
        for (const mark of this.named.filter(m => m.kind !== "axis")) {
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
            }
            move(mark, box);
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
