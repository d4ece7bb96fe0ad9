// The picture in space: what stands on the table, the path by tool, the tip, and labels that follow them.
import {
    AmbientLight, BufferGeometry, DirectionalLight, Float32BufferAttribute, Group, LineBasicMaterial, LineDashedMaterial, LineSegments,
    OrthographicCamera, Scene, Vector3, WebGLRenderer,
} from "../three/three.module.js";
import { OrbitControls } from "../three/OrbitControls.js";
import { lastAtMost } from "./geometry.js";
import { bodyOf } from "./as-cut.js";
import { pointsOfBlock } from "./frame.js";
import { tableOf, toolBody, travelOf, zerosOf } from "./solids.js";

export class Picture {
    /** Throws where the browser cannot draw in space. */
    constructor(canvas, labels, frame, parts) {
        Object.assign(this, { canvas, labels, frame, scene: frame.scene, asked: false, shown: { rapids: true, table: true, marks: true } });
        this.renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true });
        this.renderer.setPixelRatio(Math.min(window.devicePixelRatio, 2));
        this.space = new Scene();
        this.space.add(new AmbientLight(0xffffff, 2.2));
        const light = new DirectionalLight(0xffffff, 1.2);
        light.position.set(-1, -2, 4);
        this.space.add(light);
        this.table = tableOf(frame);
        this.zeros = zerosOf(frame);
        this.travel = travelOf(frame);
        this.whole = this.#lines(parts);
        this.raised = this.#raisedCopy(parts);
        this.near = new Group();
        this.here = new Group();
        this.tool = new Group();
        this.space.add(this.table, this.zeros, this.travel, this.whole.group, this.raised, this.near, this.here, this.tool);
        this.#camera();
        new ResizeObserver(() => this.#resize()).observe(canvas.parentElement);
        this.#resize();
        this.from("isometric");
    }

    #lines(parts) {
        const group = new Group();
        return { group, drawn: parts.map(part => this.#part(part, group)) };
    }

    #part(part, group) {
        const { colour: color, dash } = part;
        const geometry = new BufferGeometry().setAttribute("position", new Float32BufferAttribute(part.points, 3));
        const made = opacity => part.rapid
            ? new LineDashedMaterial({ color, dashSize: dash[0], gapSize: dash[1], transparent: true, opacity: opacity * 0.75 })
            : new LineBasicMaterial({ color, transparent: opacity < 1, opacity });
        const done = new LineSegments(geometry, made(1));
        if (part.rapid)
            done.computeLineDistances();
        const tocome = new LineSegments(geometry.clone(), made(0.45));
        done.renderOrder = tocome.renderOrder = 2;
        group.add(tocome, done);
        return { blocks: part.blocks, done, tocome, rapid: part.rapid };
    }

    #raisedCopy(parts) {
        const group = new Group();
        group.visible = false;
        if (!(this.scene.raise > 0))
            return group;
        for (const part of parts.filter(p => !p.rapid)) {
            const geometry = new BufferGeometry().setAttribute("position", new Float32BufferAttribute(part.points, 3));
            group.add(new LineSegments(geometry, new LineBasicMaterial({ color: "#808890", transparent: true, opacity: 0.5 })));
        }
        group.position.z = this.scene.raise;
        return group;
    }

    #camera() {
        this.camera = new OrthographicCamera(-1, 1, 1, -1, -this.frame.size * 40, this.frame.size * 40);
        this.camera.up.set(0, 0, 1);
        this.controls = new OrbitControls(this.camera, this.canvas);
        this.controls.addEventListener("change", () => this.draw());
        this.canvas.addEventListener("keydown", event => this.#key(event));
    }

    #key(event) {
        const turn = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
        const zoom = { "+": 1.2, "=": 1.2, "-": 1 / 1.2 }[event.key];
        if (turn) {
            const way = new Vector3().subVectors(this.camera.position, this.controls.target);
            const far = way.length();
            const around = Math.atan2(way.y, way.x) + turn[0] * 0.12;
            const up = Math.min(Math.PI / 2 - 1e-4, Math.max(-Math.PI / 2 + 1e-4, Math.asin(way.z / far) + turn[1] * 0.12));
            way.set(Math.cos(around) * Math.cos(up), Math.sin(around) * Math.cos(up), Math.sin(up)).multiplyScalar(far);
            this.camera.position.copy(this.controls.target).add(way);
        } else if (zoom) {
            this.camera.zoom *= zoom;
            this.camera.updateProjectionMatrix();
        } else
            return;
        event.preventDefault();
        this.controls.update();
        this.draw();
    }

    /** Looks from one side, with everything that matters in sight. */
    from(view) {
        const { clientWidth: width, clientHeight: height } = this.canvas.parentElement;
        const look = this.frame.look(view, width, height);
        this.controls.target.set(0, 0, 0);
        this.camera.position.copy(look.way).multiplyScalar(this.frame.size * 3);
        this.camera.zoom = look.scale * this.frame.size / Math.max(1, height);
        this.camera.updateProjectionMatrix();
        this.controls.update();
        this.draw();
    }

    #resize() {
        const { clientWidth: width, clientHeight: height } = this.canvas.parentElement;
        if (width === 0 || height === 0)
            return;
        this.renderer.setSize(width, height, false);
        const aspect = width / height;
        [this.camera.left, this.camera.right, this.camera.top, this.camera.bottom] = [-this.frame.size * aspect / 2, this.frame.size * aspect / 2, this.frame.size / 2, -this.frame.size / 2];
        this.camera.updateProjectionMatrix();
        this.draw();
    }

    show(what, on) {
        this.shown[what] = on;
        const isCut = this.shown.ascut && this.cut !== undefined;
        this.table.visible = this.shown.table ?? true;
        this.table.userData.stock.forEach(face => face.visible = !isCut);
        if (this.cut)
            this.cut.visible = isCut;
        this.travel.visible = this.shown.travel ?? false;
        this.raised.visible = this.shown.raised ?? false;
        for (const part of [...this.whole.drawn, ...(this.close?.drawn ?? [])])
            if (part.rapid)
                part.done.visible = part.tocome.visible = this.shown.rapids;
        this.labels.box.hidden = !this.shown.marks;
        this.draw();
    }

    /** Every segment around the place that is looked at, over the outline of the whole. */
    showNear(parts) {
        this.near.clear();
        this.close = this.#lines(parts);
        this.near.add(this.close.group);
        this.show("rapids", this.shown.rapids);
    }

    /** What is left of the stock, in the place of the whole blank. */
    setAsCut(blanks) {
        this.cut = bodyOf(blanks, this.frame, this.scene.unit === "in" ? 0.2 / 25.4 : 0.2);
        this.space.add(this.cut);
        this.show("ascut", this.shown.ascut);
    }

    /** The tip stands here, this block is marked, and what is before it is drawn in full. */
    goTo(tip, block, path) {
        for (const part of [...this.whole.drawn, ...(this.close?.drawn ?? [])])
            part.done.geometry.setDrawRange(0, 2 * (lastAtMost(part.blocks, block) + 1));
        if (this.marked?.block !== block || this.marked.path !== path) {
            this.marked = { block, path };
            this.here.clear();
            this.here.add(this.#block(path, block));
        }
        const number = tip.tool;
        if (this.standing !== number) {
            this.standing = number;
            this.tool.clear();
            this.tool.add(toolBody(this.scene.tools.find(t => t.number === number), this.frame.size));
        }
        this.tool.position.copy(tip.at);
        this.draw();
    }

    #block(path, block) {
        const points = pointsOfBlock(this.frame, path, Math.max(1, lastAtMost(path.block, block - 1) + 1), block);
        const geometry = new BufferGeometry().setAttribute("position", new Float32BufferAttribute(points, 3));
        const lines = new LineSegments(geometry, new LineBasicMaterial({ color: 0x000000, depthTest: false }));
        lines.renderOrder = 5;
        return lines;
    }

    /** Once for everything that happens before the browser paints. */
    draw() {
        if (this.asked)
            return;
        this.asked = true;
        requestAnimationFrame(() => {
            this.asked = false;
            this.renderer.render(this.space, this.camera);
            this.labels.put(this.onPage());
            this.drawn?.();
        });
    }

    /** How a place comes onto the page: [right, down, towards the eye], in pixels and parts of what is in sight. */
    onPage() {
        const { clientWidth: width, clientHeight: height } = this.canvas;
        const seen = new Vector3();
        return at => {
            seen.copy(at).project(this.camera);
            return [(seen.x + 1) / 2 * width, (1 - seen.y) / 2 * height, -seen.z];
        };
    }
}
