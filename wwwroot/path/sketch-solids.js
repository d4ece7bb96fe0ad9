// What stands on the table, drawn on a plain canvas as it looks in space: stock pale, holding hatched, the tool on its tip.
import { dot } from "./frame.js";

const ink = "#1d2830";
const light = { x: -1 / Math.sqrt(21), y: -2 / Math.sqrt(21), z: 4 / Math.sqrt(21) };
const round = 48;

/** From what is behind to what is in front. */
export function drawTable(pen, frame, look, to) {
    const solids = [...frame.scene.stock.map(solid => ({ solid, stock: true })), ...frame.scene.holding.map(solid => ({ solid, stock: false }))];
    const depth = ({ solid }) => dot(frame.place({ x: (solid.min.x + solid.max.x) / 2, y: (solid.min.y + solid.max.y) / 2, z: (solid.min.z + solid.max.z) / 2 }), look.way);
    solids.sort((a, b) => depth(a) - depth(b));
    for (const { solid, stock } of solids) {
        const faces = solid.round ? facesOfRound(frame, solid) : facesOfBox(frame, solid);
        for (const face of faces) {
            const seen = dot(face.normal, look.way) > 1e-6;
            const corners = face.corners.map(at => to(at.x, at.y, at.z));
            if (seen) {
                fill(pen, corners, shaded(stock ? [213, 219, 224] : [255, 255, 255], face.normal), stock ? 0.45 : 0.8);
                if (!stock && face.hatched !== false)
                    hatch(pen, frame, face, corners, to);
            }
            if ((seen || stock) && face.edged !== false)
                outline(pen, corners, ink, 1);
        }
    }
}

/** As computed for the view in space: light from all sides and some from the front left above. */
function shaded(colour, normal) {
    const strength = ((2.2 + 1.2 * Math.max(0, dot(normal, light))) / Math.PI) ** (1 / 2.2);
    return `rgb(${colour.map(c => Math.min(255, Math.round(c * strength))).join(" ")})`;
}

function facesOfBox(frame, solid) {
    const [low, high] = [frame.place(solid.min), frame.place(solid.max)];
    const faces = [];
    for (const [axis, right, up] of [["x", "y", "z"], ["y", "x", "z"], ["z", "x", "y"]])
        for (const [end, side] of [[low, -1], [high, 1]]) {
            const corner = (a, b) => ({ [axis]: end[axis], [right]: a[right], [up]: b[up] });
            faces.push({
                normal: { x: 0, y: 0, z: 0, [axis]: side }, right, up, axis, at: end[axis],
                corners: [corner(low, low), corner(high, low), corner(high, high), corner(low, high)],
            });
        }
    return faces;
}

/** Narrow upright faces around, and the level ones with their edges. */
function facesOfRound(frame, solid) {
    const [low, high] = [frame.place(solid.min), frame.place(solid.max)];
    const [x, y, radius] = [(low.x + high.x) / 2, (low.y + high.y) / 2, (high.x - low.x) / 2];
    const ring = z => Array.from({ length: round }, (_, i) => ({ x: x + radius * Math.cos(2 * Math.PI * i / round), y: y + radius * Math.sin(2 * Math.PI * i / round), z }));
    const [bottom, top] = [ring(low.z), ring(high.z)];
    const sides = bottom.map((at, i) => {
        const next = (i + 1) % round;
        const middle = 2 * Math.PI * (i + 0.5) / round;
        return { normal: { x: Math.cos(middle), y: Math.sin(middle), z: 0 }, corners: [at, bottom[next], top[next], top[i]], edged: false, hatched: false };
    });
    const level = { right: "x", up: "y", axis: "z" };
    return [...sides, { ...level, normal: { x: 0, y: 0, z: -1 }, at: low.z, corners: bottom }, { ...level, normal: { x: 0, y: 0, z: 1 }, at: high.z, corners: top }];
}

/** Slanting lines as far from each other as in space, on this face alone. */
function hatch(pen, frame, face, corners, to) {
    const { right, up, axis, at } = face;
    const step = frame.size / 40;
    const of = (name, way) => Math[way](...face.corners.map(c => c[name]));
    const [left, wide, low, high] = [of(right, "min"), of(right, "max"), of(up, "min"), of(up, "max")];
    pen.save();
    trace(pen, corners);
    pen.clip();
    Object.assign(pen, { strokeStyle: "#475661", globalAlpha: 0.35 });
    pen.beginPath();
    for (let k = Math.ceil((left - high) / step); k * step <= wide - low; k++)
        for (const [move, level] of [["moveTo", low], ["lineTo", high]]) {
            const end = { [axis]: at, [up]: level, [right]: level + k * step };
            pen[move](...to(end.x, end.y, end.z));
        }
    pen.stroke();
    pen.restore();
}

/** The tool as the setup gives it, standing on its tip; a slim pin where it gives no diameter. */
export function drawTool(pen, frame, look, to, tool, tip) {
    const radius = tool?.diameter > 0 ? tool.diameter / 2 : frame.size / 200;
    const length = tool?.length > 0 ? tool.length : frame.size / 8;
    // across the way that is looked along, the body reaches from silhouette to silhouette
    const aside = look.right;
    const far = Math.hypot(aside.x, aside.y) || 1;
    const [dx, dy] = [aside.x / far * radius, aside.y / far * radius];
    const ring = z => Array.from({ length: round }, (_, i) => to(tip.x + radius * Math.cos(2 * Math.PI * i / round), tip.y + radius * Math.sin(2 * Math.PI * i / round), z));
    const sides = [[1, tip.z], [1, tip.z + length], [-1, tip.z + length], [-1, tip.z]].map(([side, z]) => to(tip.x + side * dx, tip.y + side * dy, z));
    fill(pen, sides, tool?.colour ?? "#000000", 0.22);
    fill(pen, ring(tip.z + length), tool?.colour ?? "#000000", 0.22);
    for (const z of [tip.z, tip.z + length])
        outline(pen, ring(z), ink, 0.7);
}

function trace(pen, corners) {
    pen.beginPath();
    corners.forEach(([x, y], i) => i === 0 ? pen.moveTo(x, y) : pen.lineTo(x, y));
    pen.closePath();
}

function fill(pen, corners, colour, strength) {
    Object.assign(pen, { fillStyle: colour, globalAlpha: strength });
    trace(pen, corners);
    pen.fill();
    pen.globalAlpha = 1;
}

function outline(pen, corners, colour, strength) {
    Object.assign(pen, { strokeStyle: colour, globalAlpha: strength });
    trace(pen, corners);
    pen.stroke();
    pen.globalAlpha = 1;
}
