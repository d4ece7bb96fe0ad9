// What stands on the table, part zero and the ends of the travel, as things to draw.
import {
    BoxGeometry, BufferGeometry, CanvasTexture, CylinderGeometry, EdgesGeometry, Float32BufferAttribute, Group, Line, LineBasicMaterial,
    LineDashedMaterial, LineSegments, Mesh, MeshBasicMaterial, MeshLambertMaterial, RepeatWrapping, Vector3,
} from "../three/three.module.js";

const ink = 0x1d2830;

function hatching() {
    const size = 32;
    const canvas = document.createElement("canvas");
    canvas.width = canvas.height = size;
    const pen = canvas.getContext("2d");
    pen.fillStyle = "#ffffff";
    pen.fillRect(0, 0, size, size);
    pen.strokeStyle = "#47566166";
    pen.lineWidth = 2;
    for (const shift of [-size, 0, size]) {
        pen.beginPath();
        pen.moveTo(shift, size);
        pen.lineTo(shift + size, 0);
        pen.stroke();
    }
    const texture = new CanvasTexture(canvas);
    texture.wrapS = texture.wrapT = RepeatWrapping;
    return texture;
}

/** Texture coordinates in lengths, so that the hatching is as wide on every face. */
function layHatching(geometry, spacing) {
    const { position, normal, uv } = geometry.attributes;
    for (let i = 0; i < position.count; i++) {
        const level = Math.abs(normal.getZ(i)) > 0.5;
        const across = Math.abs(normal.getX(i)) > 0.5;
        uv.setXY(i, (across ? position.getY(i) : position.getX(i)) / spacing, (level ? position.getY(i) : position.getZ(i)) / spacing);
    }
}

function body(solid, frame) {
    const size = [solid.max.x - solid.min.x, solid.max.y - solid.min.y, solid.max.z - solid.min.z].map(s => Math.max(s, 1e-6));
    const geometry = solid.round ? new CylinderGeometry(size[0] / 2, size[0] / 2, size[2], 48).rotateX(Math.PI / 2) : new BoxGeometry(...size);
    const middle = { x: (solid.min.x + solid.max.x) / 2, y: (solid.min.y + solid.max.y) / 2, z: (solid.min.z + solid.max.z) / 2 };
    return { geometry, at: frame.place(middle) };
}

/** Stock pale and see-through, holding hatched, both with their edges. */
export function tableOf(frame) {
    const { scene, size } = frame;
    const group = new Group();
    const texture = hatching();
    const add = (solid, material, hatched) => {
        const { geometry, at } = body(solid, frame);
        if (hatched)
            layHatching(geometry, size / 40);
        const mesh = new Mesh(geometry, material);
        const edges = new LineSegments(new EdgesGeometry(geometry, 30), new LineBasicMaterial({ color: ink }));
        for (const thing of [mesh, edges]) {
            thing.position.copy(at);
            group.add(thing);
        }
        return mesh;
    };
    const stock = new MeshLambertMaterial({ color: 0xd5dbe0, transparent: true, opacity: 0.45, depthWrite: false, polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 });
    const holding = new MeshLambertMaterial({ map: texture, transparent: true, opacity: 0.8, polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 });
    group.userData.stock = scene.stock.map(s => add(s, stock, false));
    scene.holding.forEach(s => add(s, holding, true));
    return group;
}

/** X, Y and Z of each part zero; their names are labels of the page. */
export function zerosOf(frame) {
    const group = new Group();
    const arm = frame.size / 12;
    for (const zero of frame.scene.zeros) {
        const at = frame.place(zero.at);
        const points = [];
        for (const way of [[arm, 0, 0], [0, arm, 0], [0, 0, arm]])
            points.push(at.x, at.y, at.z, at.x + way[0], at.y + way[1], at.z + way[2]);
        const geometry = new BufferGeometry().setAttribute("position", new Float32BufferAttribute(points, 3));
        const lines = new LineSegments(geometry, new LineBasicMaterial({ color: 0x000000, depthTest: false }));
        lines.renderOrder = 4;
        group.add(lines);
    }
    return group;
}

/** Where X and Y of the travel end, at the height of the lowest thing. */
export function travelOf(frame) {
    const { min, max } = frame.scene.travel;
    const corners = [[min.x, min.y], [max.x, min.y], [max.x, max.y], [min.x, max.y], [min.x, min.y]];
    const geometry = new BufferGeometry().setFromPoints(corners.map(([x, y]) => new Vector3().copy(frame.place({ x, y, z: frame.lowest }))));
    const line = new Line(geometry, new LineDashedMaterial({ color: ink, dashSize: frame.size / 30, gapSize: frame.size / 60 }));
    line.computeLineDistances();
    line.visible = false;
    return line;
}

/** The tool as the setup gives it, standing on its tip; a slim pin where it gives no diameter. */
export function toolBody(tool, size) {
    const radius = tool?.diameter > 0 ? tool.diameter / 2 : size / 200;
    const length = tool?.length > 0 ? tool.length : size / 8;
    const geometry = new CylinderGeometry(radius, radius, length, 32, 1, false).rotateX(Math.PI / 2).translate(0, 0, length / 2);
    const group = new Group();
    group.add(new Mesh(geometry, new MeshBasicMaterial({ color: tool?.colour ?? "#000000", transparent: true, opacity: 0.22, depthWrite: false })));
    group.add(new LineSegments(new EdgesGeometry(geometry, 30), new LineBasicMaterial({ color: ink, transparent: true, opacity: 0.7 })));
    return group;
}
