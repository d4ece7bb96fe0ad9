// The picture in space: what stands on the table, the path by tool, the tip, and labels that follow them.
import {
    AmbientLight, Box3, BufferGeometry, DirectionalLight, Float32BufferAttribute, Group, LineBasicMaterial, LineDashedMaterial, LineSegments,
    OrthographicCamera, Scene, Vector3, WebGLRenderer,
} from "../three/three.module.js";
import { OrbitControls } from "../three/OrbitControls.js";
import { lastAtMost } from "./geometry.js";
import { place, tableOf, toolBody, travelOf, zerosOf } from "./solids.js";

const guess = "#8a949b";
const sized = new Set(["tool", "pass"]);
const around = [[0, 0], [25, 0], [-25, 0], [0, -23], [25, -23], [-25, -23], [0, 23], [25, 23], [-25, 23], [50, 0], [-50, 0], [50, -23], [-50, -23], [0, -46], [25, -46], [-25, -46]];
const views = { top: [0, -1e-4, 1], front: [0, -1, 0], side: [1, 0, 0], isometric: [-1, -1, 1] };

export class Picture {
    /** Throws where the browser cannot draw in space. */
    constructor(canvas, labels, scene, path) {
        Object.assign(this, { canvas, labels, scene, path, asked: false, shown: { rapids: true, marks: true } });
        this.renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true });
        this.renderer.setPixelRatio(Math.min(window.devicePixelRatio, 2));
        this.space = new Scene();
        this.space.add(new AmbientLight(0xffffff, 2.2));
        const light = new DirectionalLight(0xffffff, 1.2);
        light.position.set(-1, -2, 4);
        this.space.add(light);
        this.#measure();
        this.table = tableOf(scene, this.origin, this.size);
        this.zeros = zerosOf(scene, this.origin, this.size);
        this.travel = travelOf(scene, this.origin, this.lowest, this.size);
        this.whole = this.#lines(path, 1);
        this.raised = this.#raisedCopy();
        this.near = new Group();
        this.here = new Group();
        this.tool = new Group();
        this.space.add(this.table, this.zeros, this.travel, this.whole.group, this.raised, this.near, this.here, this.tool);
        this.#camera();
        this.#marks();
        new ResizeObserver(() => this.#resize()).observe(canvas.parentElement);
        this.#resize();
        this.from("isometric");
    }

    #at(path, i) {
        return { x: path.x[i] / this.scene.steps, y: path.y[i] / this.scene.steps, z: path.z[i] / this.scene.steps };
    }

    /** The box of what matters: the table and the cuts; rapids may lead far away from it. */
    #measure() {
        const box = new Box3();
        const { scene, path } = this;
        for (const solid of [...scene.stock, ...scene.holding])
            box.expandByPoint(place({ x: 0, y: 0, z: 0 }, solid.min)).expandByPoint(place({ x: 0, y: 0, z: 0 }, solid.max));
        const kinds = path.kind.some(kind => (kind & 255) === 2) ? [2] : box.isEmpty() ? [0, 1] : [];
        const corner = new Vector3();
        for (let i = 0; i < path.points; i++)
            if (kinds.includes(path.kind[i] & 255)) {
                const at = this.#at(path, i);
                box.expandByPoint(corner.set(at.x, at.y, at.z));
            }
        if (box.isEmpty())
            box.expandByPoint(corner.set(0, 0, 0));
        this.origin = box.getCenter(new Vector3());
        this.size = Math.max(box.getSize(new Vector3()).length(), 10 / scene.decimals);
        this.half = box.getSize(new Vector3()).multiplyScalar(0.5);
        this.lowest = box.min.z;
    }

    /** Cuts and rapids of each tool as lines of one look, in the order of the program. */
    #lines(path, strength) {
        const parts = new Map();
        for (let i = 1; i < path.points; i++) {
            const kind = path.kind[i] & 255;
            if (kind === 0)
                continue;
            const guessed = path.guessedFrom > 0 && path.block[i] >= path.guessedFrom;
            const key = `${path.tool[i]} ${kind} ${guessed}`;
            if (!parts.has(key))
                parts.set(key, { tool: path.tool[i], kind, guessed, points: [], blocks: [] });
            const part = parts.get(key);
            for (const end of [i - 1, i]) {
                const at = this.#at(path, end);
                part.points.push(at.x - this.origin.x, at.y - this.origin.y, at.z - this.origin.z);
            }
            part.blocks.push(path.block[i]);
        }
        const group = new Group();
        const drawn = [...parts.values()].map(part => this.#part(part, strength, group));
        return { group, drawn };
    }

    #part(part, strength, group) {
        const look = this.scene.tools.find(t => t.number === part.tool);
        const color = part.guessed ? guess : look?.colour ?? "#000000";
        const dash = look?.dash ?? [3, 2];
        const unit = this.size / 300;
        const geometry = new BufferGeometry().setAttribute("position", new Float32BufferAttribute(part.points, 3));
        const made = opacity => part.kind === 1
            ? new LineDashedMaterial({ color, dashSize: dash[0] * unit, gapSize: dash[1] * unit, transparent: true, opacity: opacity * 0.75 })
            : new LineBasicMaterial({ color, transparent: opacity < 1, opacity });
        const done = new LineSegments(geometry, made(strength));
        if (part.kind === 1)
            done.computeLineDistances();
        const tocome = new LineSegments(geometry.clone(), made(strength * 0.45));
        done.renderOrder = tocome.renderOrder = 2;
        group.add(tocome, done);
        return { blocks: Int32Array.from(part.blocks), done, tocome, rapid: part.kind === 1 };
    }

    #raisedCopy() {
        const group = new Group();
        const { path, scene } = this;
        group.visible = false;
        if (!(scene.raise > 0))
            return group;
        const points = [];
        for (let i = 1; i < path.points; i++)
            if ((path.kind[i] & 255) === 2)
                for (const end of [i - 1, i]) {
                    const at = this.#at(path, end);
                    points.push(at.x - this.origin.x, at.y - this.origin.y, at.z + scene.raise - this.origin.z);
                }
        const geometry = new BufferGeometry().setAttribute("position", new Float32BufferAttribute(points, 3));
        group.add(new LineSegments(geometry, new LineBasicMaterial({ color: "#808890", transparent: true, opacity: 0.5 })));
        return group;
    }

    #camera() {
        this.camera = new OrthographicCamera(-1, 1, 1, -1, -this.size * 40, this.size * 40);
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
        const way = new Vector3(...views[view]).normalize();
        this.controls.target.set(0, 0, 0);
        this.camera.position.copy(way).multiplyScalar(this.size * 3);
        this.camera.lookAt(0, 0, 0);
        this.camera.updateMatrixWorld();
        const [wide, high] = [0, 1].map(axis => {
            const along = new Vector3().setFromMatrixColumn(this.camera.matrixWorld, axis);
            return 2 * (Math.abs(along.x) * this.half.x + Math.abs(along.y) * this.half.y + Math.abs(along.z) * this.half.z);
        });
        const room = this.canvas.parentElement;
        const aspect = room.clientWidth / Math.max(1, room.clientHeight);
        const least = this.size / 50;
        this.camera.zoom = Math.min((this.size * aspect) / Math.max(wide, least), this.size / Math.max(high, least)) * 0.82;
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
        [this.camera.left, this.camera.right, this.camera.top, this.camera.bottom] = [-this.size * aspect / 2, this.size * aspect / 2, this.size / 2, -this.size / 2];
        this.camera.updateProjectionMatrix();
        this.draw();
    }

    /** Things that are named: what holds the part, part zero, the tools where they begin to cut, the nearest passes, what was found. */
    #marks() {
        const { scene, path } = this;
        this.named = [];
        const name = (at, text, kind, left = 6, top = -22) => {
            const label = document.createElement("span");
            label.className = kind;
            if (text instanceof Node)
                label.append(text);
            else
                label.textContent = text;
            this.labels.append(label);
            this.named.push({ at, label, left, top, kind });
            return label;
        };
        for (const held of scene.holding)
            name(place(this.origin, { x: (held.min.x + held.max.x) / 2, y: held.min.y, z: held.min.z }), held.name, "held", -20, 4);
        const seen = new Set();
        for (let i = 1; i < path.points; i++)
            if ((path.kind[i] & 255) === 2 && !seen.has(path.tool[i])) {
                seen.add(path.tool[i]);
                name(place(this.origin, this.#at(path, i - 1)), String(path.tool[i]), "tool", 8, -26).style.borderColor =
                    scene.tools.find(t => t.number === path.tool[i])?.colour ?? "#000";
            }
        for (const pass of scene.passes)
            name(place(this.origin, pass.tip), String(pass.number), "pass", 8, 4).title = pass.holding;
        const worst = ["stop", "check"];
        for (const level of worst)
            for (const finding of scene.findings.filter(f => f.level === level && f.block !== null).slice(0, 15)) {
                const i = lastAtMost(path.block, finding.block);
                if (i < 0)
                    continue;
                const mark = document.getElementById("mark-" + level).content.querySelector("svg").cloneNode(true);
                name(place(this.origin, this.#at(path, i)), mark, `finding-mark level level-${level}`, -24, 2).title = finding.id;
            }
        const arm = this.size / 12;
        for (const zero of scene.zeros) {
            const at = place(this.origin, zero.at);
            name(at, zero.workOffset, "zero", -40, -10);
            for (const [axis, x, y, z] of [["X", arm, 0, 0], ["Y", 0, arm, 0], ["Z", 0, 0, arm]])
                {
                name(new Vector3(at.x + x, at.y + y, at.z + z), axis, "axis", 2, -18);
                this.named.at(-1).base = at;
            }
        }
        name(new Vector3(), "", "tip", -9, -9);
        this.tip = this.named.at(-1);
    }

    show(what, on) {
        this.shown[what] = on;
        this.table.visible = this.shown.table ?? true;
        this.travel.visible = this.shown.travel ?? false;
        this.raised.visible = this.shown.raised ?? false;
        for (const part of [...this.whole.drawn, ...(this.close?.drawn ?? [])])
            if (part.rapid)
                part.done.visible = part.tocome.visible = this.shown.rapids;
        this.labels.hidden = !this.shown.marks;
        this.draw();
    }

    /** Every segment around the place that is looked at, over the outline of the whole. */
    showNear(path) {
        this.near.clear();
        this.close = this.#lines(path, 1);
        this.near.add(this.close.group);
        this.show("rapids", this.shown.rapids);
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
            this.tool.add(toolBody(this.scene.tools.find(t => t.number === number), this.size));
        }
        const { steps } = this.scene;
        this.tip.at.copy(place(this.origin, { x: tip.at[0] / steps, y: tip.at[1] / steps, z: tip.at[2] / steps }));
        this.tool.position.copy(this.tip.at);
        this.draw();
    }

    #block(path, block) {
        const points = [];
        for (let i = Math.max(1, lastAtMost(path.block, block - 1) + 1); i < path.points && path.block[i] === block; i++)
            if ((path.kind[i] & 255) !== 0)
                for (const end of [i - 1, i]) {
                    const at = this.#at(path, end);
                    points.push(at.x - this.origin.x, at.y - this.origin.y, at.z - this.origin.z);
                }
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
            this.#placeLabels();
            this.drawn?.();
        });
    }

    #placeLabels() {
        const { clientWidth: width, clientHeight: height } = this.canvas;
        const at = new Vector3();
        const at2 = new Vector3();
        const half = new Vector3(width / 2, height / 2, 0);
        const taken = [];
        for (const mark of this.named) {
            at.copy(mark.at).project(this.camera);
            let x = (at.x + 1) / 2 * width + mark.left;
            let y = (1 - at.y) / 2 * height + mark.top;
            // marks of one kind of size, where several things begin at one place, stand beside each other
            if (sized.has(mark.kind)) {
                const free = around.find(([right, down]) => !taken.some(t => Math.abs(t.x - x - right) < 25 && Math.abs(t.y - y - down) < 22)) ?? [0, 0];
                x += free[0];
                y += free[1];
                taken.push({ x, y });
            }
            if (mark.base)
                mark.label.hidden = at2.copy(mark.base).project(this.camera).sub(at).multiply(half).length() < 12;
            mark.label.style.transform = `translate(${x.toFixed(1)}px, ${y.toFixed(1)}px)`;
        }
    }
}
