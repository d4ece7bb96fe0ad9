// Where the picture stands: first lines on a plain canvas, then the same in space, and what somebody presses in either.
import { Frame, partsOf } from "./frame.js";
import { Labels } from "./labels.js";
import { passesAt } from "./press.js";
import { Sketch } from "./sketch.js";

const by = id => document.getElementById(id);

/** How far from a line a press may be, in pixels. */
const reach = { mouse: 8, touch: 18, pen: 12 };

export class Stage {
    /** @param pressed (passes, place) => somebody pressed the picture there */
    constructor(scene, path, pressed) {
        this.frame = new Frame(scene, path);
        this.parts = partsOf(this.frame, path);
        this.near = [];
        this.shown = {};
        this.view = "isometric";
        this.labels = new Labels(by("path-labels"), this.frame, path);
        try {
            this.sketch = this.current = new Sketch(by("path-sketch"), this.labels, this.frame, this.parts);
        } catch {
            by("path-sketch").hidden = true;
        }
        this.#listen(by("path-stage"), pressed);
    }

    /** Resolves once the first picture has been painted, to whether there is one. What comes next may keep the browser from painting for long. */
    async first() {
        if (!this.sketch)
            return false;
        await new Promise(drawn => { this.sketch.drawn = drawn; this.sketch.draw(); });
        await new Promise(painted => requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(painted))));
        return true;
    }

    /** Goes on in space, seen as before. Throws where the browser cannot. */
    async inSpace({ Picture }) {
        const picture = new Picture(by("path-canvas"), this.labels, this.frame, this.parts);
        picture.from(this.view);
        if (this.near.length > 0)
            picture.showNear(this.near);
        if (this.at)
            picture.goTo(...this.at);
        for (const [what, on] of Object.entries(this.shown))
            picture.show(what, on);
        if (this.cut)
            picture.setAsCut(this.cut);
        await new Promise(drawn => picture.drawn = drawn);
        this.sketch?.end();
        this.current = this.picture = picture;
    }

    /** The sketch stays: a browser that does not draw in space. */
    stayFlat() {
        by("path-canvas").hidden = true;
        this.sketch.canvas.setAttribute("role", "img");
        this.sketch.canvas.setAttribute("aria-label", "The path with stock, holding and part zero, seen from one side. The buttons above choose the side. Below it the position is said in words.");
    }

    from(view) {
        this.view = view;
        this.current?.from(view);
    }

    show(what, on) {
        this.shown[what] = on;
        this.current?.show(what, on);
    }

    /** What is left of the stock, as as-cut.js reads it. */
    setAsCut(blanks) {
        this.cut = blanks;
        this.picture?.setAsCut(blanks);
    }

    /** Every segment around the place that is looked at, over the outline of the whole. */
    showNear(path) {
        this.near = partsOf(this.frame, path);
        this.around = path;
        this.current?.showNear(this.near);
    }

    /** The tip stands there (in steps), the block is marked, and what is before it is drawn in full. */
    goTo({ at, tool }, block, path) {
        const { steps } = this.frame.scene;
        const place = this.frame.place({ x: at[0] / steps, y: at[1] / steps, z: at[2] / steps });
        this.labels.tip.at = place;
        if (block !== this.chosen)
            this.labels.choose(null);
        this.at = [{ at: place, tool }, block, path];
        this.current?.goTo(...this.at);
    }

    /** Says beside a place on the path which block it is. */
    choose(block, at, words) {
        this.chosen = block;
        this.labels.choose(at, words);
        this.current?.draw();
    }

    /** What lies under a place on the page; of what is drawn in full around a block only that. */
    passesAt(x, y, far) {
        const drawn = parts => parts.filter(part => !part.rapid || (this.shown.rapids ?? true));
        const [from, to] = this.around ? [this.around.firstBlock, this.around.lastBlock] : [Infinity, -Infinity];
        const onPage = this.current.onPage();
        const whole = passesAt(drawn(this.parts), onPage, x, y, far, (since, block) => since < from || block > to);
        return [...passesAt(drawn(this.near), onPage, x, y, far), ...whole];
    }

    /** Of the segments of some blocks the one that is nearest to a place on the page. */
    nearestAt(path, x, y, since, block) {
        const passes = passesAt(partsOf(this.frame, path), this.current.onPage(), x, y, Infinity, (from, to) => from >= since && to <= block);
        return passes.sort((a, b) => a.off - b.off)[0];
    }

    /** A press is down and up at one place; what moves in between turns the picture. */
    #listen(stage, pressed) {
        let down = null;
        stage.addEventListener("pointerdown", event => down = event.isPrimary && event.button === 0 ? event : null);
        stage.addEventListener("pointercancel", () => down = null);
        stage.addEventListener("pointerup", event => {
            const [from, far] = [down, reach[event.pointerType] ?? reach.mouse];
            down = null;
            if (!from || !this.current || Math.hypot(event.clientX - from.clientX, event.clientY - from.clientY) > far / 2)
                return;
            const box = stage.getBoundingClientRect();
            const [x, y] = [event.clientX - box.left - stage.clientLeft, event.clientY - box.top - stage.clientTop];
            pressed(this.passesAt(x, y, far), { x, y });
        });
    }
}
