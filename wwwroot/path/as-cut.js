// The stock as cut as a body of flat-topped cells: tops, undersides and walls, equal neighbours as one piece, and lines where it steps.
import { BufferGeometry, Float32BufferAttribute, Group, LineBasicMaterial, LineSegments, Mesh, MeshLambertMaterial } from "../three/three.module.js";

const mark = 0x31435748;
const wordsOfBlank = 7;

/** Reads the server's bytes (AsCutBytes.cs). Throws where they are something else. */
export function readAsCut(buffer) {
    const [words, floats] = [new Int32Array(buffer), new Float32Array(buffer)];
    if (words[0] !== mark)
        throw new Error("The server sent something that is no stock.");
    const blanks = [];
    for (let at = 2; blanks.length < words[1];) {
        const [columns, rows] = [words[at], words[at + 1]];
        const [minX, maxX, minY, maxY, bottom] = floats.subarray(at + 2, at + wordsOfBlank);
        const heights = floats.subarray(at + wordsOfBlank, at + wordsOfBlank + columns * rows);
        blanks.push({ columns, rows, minX, maxX, minY, maxY, bottom, heights });
        at += wordsOfBlank + columns * rows;
    }
    return blanks;
}

/** @param step height from which on an edge has a line, in the setup's units */
export function bodyOf(blanks, frame, step) {
    const group = new Group();
    for (const blank of blanks) {
        const body = new Body(blank, frame, step);
        const geometry = new BufferGeometry()
            .setAttribute("position", new Float32BufferAttribute(body.corners, 3))
            .setAttribute("normal", new Float32BufferAttribute(body.normals, 3));
        const lines = new BufferGeometry().setAttribute("position", new Float32BufferAttribute(body.lines, 3));
        group.add(new Mesh(geometry, new MeshLambertMaterial({ color: 0xc3c9cf, polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 })));
        group.add(new LineSegments(lines, new LineBasicMaterial({ color: 0x1d2830, transparent: true, opacity: 0.6 })));
    }
    return group;
}

class Body {
    constructor(blank, frame, step) {
        Object.assign(this, { blank, step, corners: [], normals: [], lines: [] });
        const low = frame.place({ x: blank.minX, y: blank.minY, z: blank.bottom });
        const { columns, rows } = blank;
        this.x = column => low.x + column / columns * (blank.maxX - blank.minX);
        this.y = row => low.y + row / rows * (blank.maxY - blank.minY);
        this.z = height => low.z + height;
        this.#tops();
        for (let column = 0; column <= columns; column++)
            this.#walls(rows, row => [this.#height(column - 1, row), this.#height(column, row)], at => [this.x(column), this.y(at)], [1, 0, 0]);
        for (let row = 0; row <= rows; row++)
            this.#walls(columns, column => [this.#height(column, row - 1), this.#height(column, row)], at => [this.x(at), this.y(row)], [0, 1, 0]);
    }

    /** 0 outside. */
    #height(column, row) {
        const { columns, rows, heights } = this.blank;
        return column < 0 || row < 0 || column >= columns || row >= rows ? 0 : heights[row * columns + column];
    }

    /** Rectangles of one height, each with its underside. */
    #tops() {
        const { columns, rows, heights } = this.blank;
        const done = new Uint8Array(columns * rows);
        for (let row = 0; row < rows; row++)
            for (let column = 0; column < columns; column++) {
                const height = heights[row * columns + column];
                if (done[row * columns + column] || height <= 0)
                    continue;
                const isFree = (c, r) => heights[r * columns + c] === height && !done[r * columns + c];
                let right = column + 1;
                while (right < columns && isFree(right, row))
                    right++;
                let back = row + 1;
                const isWhole = r => { for (let c = column; c < right; c++) if (!isFree(c, r)) return false; return true; };
                while (back < rows && isWhole(back))
                    back++;
                for (let r = row; r < back; r++)
                    done.fill(1, r * columns + column, r * columns + right);
                const [x0, x1, y0, y1] = [this.x(column), this.x(right), this.y(row), this.y(back)];
                for (const [z, up] of [[this.z(height), 1], [this.z(0), -1]])
                    this.#quad([[x0, y0, z], [x1, y0, z], [x1, y1, z], [x0, y1, z]], [0, 0, up]);
            }
    }

    /** Along one line of the grid: where both sides differ, for as long as they do so alike. */
    #walls(count, sides, place, towards) {
        for (let from = 0; from < count;) {
            const [before, behind] = sides(from);
            let end = from + 1;
            while (end < count && sides(end)[0] === before && sides(end)[1] === behind)
                end++;
            if (before !== behind) {
                const [a, b] = [place(from), place(end)];
                const [low, high] = [this.z(Math.min(before, behind)), this.z(Math.max(before, behind))];
                this.#quad([[...a, low], [...b, low], [...b, high], [...a, high]], towards.map(w => before > behind ? w : -w));
                if (high - low >= this.step)
                    this.lines.push(...a, low, ...b, low, ...a, high, ...b, high);
            }
            from = end;
        }
    }

    /** Two triangles that are seen from where the normal points. */
    #quad(corners, normal) {
        const [a, b, c] = corners;
        const [u, v] = [b.map((x, i) => x - a[i]), c.map((x, i) => x - a[i])];
        const facing = normal[0] * (u[1] * v[2] - u[2] * v[1]) + normal[1] * (u[2] * v[0] - u[0] * v[2]) + normal[2] * (u[0] * v[1] - u[1] * v[0]);
        for (const i of facing > 0 ? [0, 1, 2, 0, 2, 3] : [0, 2, 1, 0, 3, 2]) {
            this.corners.push(...corners[i]);
            this.normals.push(...normal);
        }
    }
}
