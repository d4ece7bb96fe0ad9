// Where everything lies in the picture: what is in it, from which side it is looked at, and where that puts a place on the page.

/** From the middle of the picture to the eye. */
const ways = { top: [0, -1e-4, 1], front: [0, -1, 0], side: [1, 0, 0], isometric: [-1, -1, 1] };

export const dot = (a, b) => a.x * b.x + a.y * b.y + a.z * b.z;

const cross = (a, b) => ({ x: a.y * b.z - a.z * b.y, y: a.z * b.x - a.x * b.z, z: a.x * b.y - a.y * b.x });

const unit = a => {
    const length = Math.hypot(a.x, a.y, a.z);
    return { x: a.x / length, y: a.y / length, z: a.z / length };
};

/** The box of what matters: the table and the cuts; rapids may lead far away from it. */
export class Frame {
    constructor(scene, path) {
        this.scene = scene;
        const low = { x: Infinity, y: Infinity, z: Infinity };
        const high = { x: -Infinity, y: -Infinity, z: -Infinity };
        const add = at => {
            for (const axis of ["x", "y", "z"])
                [low[axis], high[axis]] = [Math.min(low[axis], at[axis]), Math.max(high[axis], at[axis])];
        };
        const solids = [...scene.stock, ...scene.holding];
        solids.forEach(solid => [solid.min, solid.max].forEach(add));
        const kinds = path.kind.some(kind => (kind & 255) === 2) ? [2] : solids.length === 0 ? [0, 1] : [];
        for (let i = 0; i < path.points; i++)
            if (kinds.includes(path.kind[i] & 255))
                add(this.#inSetup(path, i));
        if (low.x > high.x)
            add({ x: 0, y: 0, z: 0 });
        this.origin = { x: (low.x + high.x) / 2, y: (low.y + high.y) / 2, z: (low.z + high.z) / 2 };
        this.half = { x: (high.x - low.x) / 2, y: (high.y - low.y) / 2, z: (high.z - low.z) / 2 };
        this.size = Math.max(2 * Math.hypot(this.half.x, this.half.y, this.half.z), 10 / scene.decimals);
        this.lowest = low.z;
    }

    #inSetup(path, i) {
        const { steps } = this.scene;
        return { x: path.x[i] / steps, y: path.y[i] / steps, z: path.z[i] / steps };
    }

    /** A place of the setup in the picture's own coordinates, which begin at its middle so that small numbers stay exact. */
    place(at) {
        return { x: at.x - this.origin.x, y: at.y - this.origin.y, z: at.z - this.origin.z };
    }

    /** The same for a point of a path. */
    point(path, i) {
        return this.place(this.#inSetup(path, i));
    }

    /** Right, up and towards the eye in a view, and how many units one pixel is when all of it is in sight. */
    look(view, width, height) {
        const [x, y, z] = ways[view];
        const way = unit({ x, y, z });
        const right = unit(cross({ x: 0, y: 0, z: 1 }, way));
        const up = cross(way, right);
        const { half, size } = this;
        const [wide, high] = [right, up].map(along => 2 * (Math.abs(along.x) * half.x + Math.abs(along.y) * half.y + Math.abs(along.z) * half.z));
        const least = size / 50;
        return { way, right, up, scale: Math.min(width / Math.max(wide, least), height / Math.max(high, least)) * 0.82 };
    }
}

/**
 * Cuts and rapids of each tool as pieces of one look, in the order of the program: two ends of three numbers each, the block in which a piece
 * ends, and the one in which it begins, which in an outline may be far before.
 */
export function partsOf(frame, path) {
    const parts = new Map();
    for (let i = 1; i < path.points; i++) {
        const kind = path.kind[i] & 255;
        if (kind === 0)
            continue;
        const guessed = path.guessedFrom > 0 && path.block[i] >= path.guessedFrom;
        const key = `${path.tool[i]} ${kind} ${guessed}`;
        if (!parts.has(key))
            parts.set(key, { tool: path.tool[i], rapid: kind === 1, guessed, points: [], blocks: [], since: [] });
        const part = parts.get(key);
        const [from, to] = [frame.point(path, i - 1), frame.point(path, i)];
        part.points.push(from.x, from.y, from.z, to.x, to.y, to.z);
        part.blocks.push(path.block[i]);
        part.since.push(path.block[i - 1]);
    }
    return [...parts.values()].map(part => ({ ...part, points: Float32Array.from(part.points), blocks: Int32Array.from(part.blocks), ...lookOf(frame, part) }));
}

const guess = "#8a949b";

/** A colour, and dashes in the picture's own lengths. */
function lookOf(frame, part) {
    const look = frame.scene.tools.find(t => t.number === part.tool);
    const step = frame.size / 300;
    return { colour: part.guessed ? guess : look?.colour ?? "#000000", dash: (look?.dash ?? [3, 2]).slice(0, 2).map(d => d * step) };
}

/** Ends of the segments of one block, as of a part. */
export function pointsOfBlock(frame, path, first, block) {
    const points = [];
    for (let i = first; i < path.points && path.block[i] === block; i++)
        if ((path.kind[i] & 255) !== 0)
            for (const end of [i - 1, i]) {
                const at = frame.point(path, end);
                points.push(at.x, at.y, at.z);
            }
    return points;
}
