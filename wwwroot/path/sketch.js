// The picture as lines on a plain canvas: the first one that is seen, and where a browser does not draw in space the one that stays.
import { lastAtMost } from "./geometry.js";
import { dot, pointsOfBlock } from "./frame.js";
import { drawTable, drawTool } from "./sketch-solids.js";

/** Lines that are stroked in one go: a browser takes very long for one shape of many thousands. */
const atOnce = 400;

export class Sketch {
    /** Throws where the browser has no canvas at all. */
    constructor(canvas, labels, frame, parts) {
        Object.assign(this, { canvas, labels, frame, view: "isometric", shown: { rapids: true, table: true, marks: true }, whole: parts, near: [], block: 0 });
        // kept out of the hands of the graphics process, which where it is software takes longer to start than all of this to draw
        this.pen = canvas.getContext("2d", { willReadFrequently: true });
        if (!this.pen)
            throw new Error("no canvas");
        this.sized = new ResizeObserver(() => this.draw());
        this.sized.observe(canvas.parentElement);
    }

    from(view) {
        this.view = view;
        this.draw();
    }

    show(what, on) {
        this.shown[what] = on;
        this.labels.box.hidden = !this.shown.marks;
        this.draw();
    }

    showNear(parts) {
        this.near = parts;
        this.draw();
    }

    goTo(tip, block, path) {
        this.block = block;
        this.tool = this.frame.scene.tools.find(t => t.number === tip.tool);
        this.tip = tip.at;
        this.here = pointsOfBlock(this.frame, path, Math.max(1, lastAtMost(path.block, block - 1) + 1), block);
        this.draw();
    }

    /** Once for everything that happens before the browser paints. */
    draw() {
        if (this.asked || this.ended)
            return;
        this.asked = true;
        requestAnimationFrame(() => {
            this.asked = false;
            if (!this.ended)
                this.#draw();
        });
    }

    /** The view in space has taken its place. */
    end() {
        this.ended = true;
        this.sized.disconnect();
        this.canvas.hidden = true;
    }

    /** How a place comes onto the page: [right, down, towards the eye], in pixels and units. */
    onPage() {
        const { clientWidth: width, clientHeight: height } = this.canvas.parentElement;
        const look = this.frame.look(this.view, width, height);
        return at => [width / 2 + dot(at, look.right) * look.scale, height / 2 - dot(at, look.up) * look.scale, dot(at, look.way)];
    }

    #draw() {
        const { canvas, pen, frame, shown } = this;
        const { clientWidth: width, clientHeight: height } = canvas.parentElement;
        if (width === 0 || height === 0)
            return;
        const fine = Math.min(window.devicePixelRatio, 2);
        [canvas.width, canvas.height] = [width * fine, height * fine];
        const look = frame.look(this.view, width * fine, height * fine);
        const [middle, centre] = [canvas.width / 2, canvas.height / 2];
        const to = (x, y, z) => [
            middle + (x * look.right.x + y * look.right.y + z * look.right.z) * look.scale,
            centre - (x * look.up.x + y * look.up.y + z * look.up.z) * look.scale,
        ];
        pen.lineWidth = 1;
        if (shown.table)
            drawTable(pen, frame, look, to);
        if (shown.travel)
            this.#travel(to);
        if (shown.raised)
            for (const part of this.whole.filter(p => !p.rapid))
                this.#lines(part.points, 0, part.blocks.length, to, "#808890", 0.5, null, frame.scene.raise);
        for (const part of [...this.whole, ...this.near])
            if (!part.rapid || shown.rapids)
                this.#part(part, to, look.scale);
        if (this.here)
            this.#lines(this.here, 0, this.here.length / 6, to, "#000000", 1);
        this.#zeros(to);
        if (this.tip)
            drawTool(pen, frame, look, to, this.tool, this.tip);
        this.labels.put(this.onPage());
        this.drawn?.();
    }

    /** What is before the block in full, what comes after it pale. */
    #part(part, to, scale) {
        const strength = part.rapid ? 0.75 : 1;
        const done = lastAtMost(part.blocks, this.block) + 1;
        const dash = part.rapid ? part.dash.map(d => d * scale) : null;
        this.#lines(part.points, done, part.blocks.length, to, part.colour, strength * 0.45, dash);
        this.#lines(part.points, 0, done, to, part.colour, strength, dash);
    }

    #lines(points, from, end, to, colour, strength, dash = null, lifted = 0) {
        const { pen } = this;
        Object.assign(pen, { strokeStyle: colour, globalAlpha: strength });
        pen.setLineDash(dash ?? []);
        let [lastX, lastY] = [NaN, NaN];
        for (let start = from; start < end; start += atOnce) {
            pen.beginPath();
            for (let i = start; i < Math.min(end, start + atOnce); i++) {
                const at = 6 * i;
                const [x0, y0] = to(points[at], points[at + 1], points[at + 2] + lifted);
                const [x1, y1] = to(points[at + 3], points[at + 4], points[at + 5] + lifted);
                if (i === start || x0 !== lastX || y0 !== lastY)
                    pen.moveTo(x0, y0);
                pen.lineTo(x1, y1);
                [lastX, lastY] = [x1, y1];
            }
            pen.stroke();
        }
        pen.setLineDash([]);
        pen.globalAlpha = 1;
    }

    #travel(to) {
        const { frame, pen } = this;
        const { min, max } = frame.scene.travel;
        pen.strokeStyle = "#1d2830";
        pen.setLineDash([12, 6]);
        pen.beginPath();
        for (const [x, y] of [[min.x, min.y], [max.x, min.y], [max.x, max.y], [min.x, max.y]]) {
            const at = frame.place({ x, y, z: frame.lowest });
            pen.lineTo(...to(at.x, at.y, at.z));
        }
        pen.closePath();
        pen.stroke();
        pen.setLineDash([]);
    }

    #zeros(to) {
        const arm = this.frame.size / 12;
        for (const zero of this.frame.scene.zeros) {
            const { x, y, z } = this.frame.place(zero.at);
            this.#lines([x, y, z, x + arm, y, z, x, y, z, x, y + arm, z, x, y, z, x, y, z + arm], 0, 3, to, "#000000", 1);
        }
    }
}
