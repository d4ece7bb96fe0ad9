// Reads the bytes that the server sends for a path (PathBytes.cs) and finds places in them.

const headWords = 9;
const mark = 0x31505748;

/** Columns as typed arrays, the head by name. Throws where the bytes are something else. */
export function read(buffer) {
    const head = new Int32Array(buffer, 0, headWords);
    if (head[0] !== mark)
        throw new Error("The server sent something that is no path.");
    const points = head[1];
    let at = headWords * 4;
    const ints = () => { const column = new Int32Array(buffer, at, points); at += points * 4; return column; };
    const floats = () => { const column = new Float32Array(buffer, at, points); at += points * 4; return column; };
    return {
        points,
        firstBlock: head[2],
        lastBlock: head[3],
        blocks: head[4],
        segments: head[5],
        leftOut: head[6],
        guessedFrom: head[7],
        complete: head[8] === 1,
        x: ints(), y: ints(), z: ints(), block: ints(), line: ints(), kind: ints(), tool: ints(),
        cut: floats(), rapid: floats(), seconds: floats(),
    };
}

/** The last point whose value in an ascending column is at most this; -1 where none is. */
export function lastAtMost(column, value) {
    let low = 0;
    let high = column.length;
    while (low < high) {
        const middle = (low + high) >> 1;
        if (column[middle] <= value)
            low = middle + 1;
        else
            high = middle;
    }
    return low - 1;
}

/** Seconds up to a point at a rate: as programmed, or cutting and rapid at units a minute. */
export function timeAt(path, point, rate) {
    return rate.cut === null ? path.seconds[point] : (path.cut[point] / rate.cut + path.rapid[point] / rate.rapid) * 60;
}

/** The point at or before a time. */
export function pointAtTime(path, time, rate) {
    let low = 0;
    let high = path.points;
    while (low < high) {
        const middle = (low + high) >> 1;
        if (timeAt(path, middle, rate) <= time)
            low = middle + 1;
        else
            high = middle;
    }
    return Math.max(0, low - 1);
}

/** The tip at a time in steps, on the way from one point to the next, and which block it is in. */
export function tipAtTime(path, time, rate) {
    const from = pointAtTime(path, time, rate);
    const to = Math.min(from + 1, path.points - 1);
    const start = timeAt(path, from, rate);
    const length = timeAt(path, to, rate) - start;
    const part = (path.kind[to] & 255) === 0 || !(length > 0) ? 0 : Math.min(1, Math.max(0, (time - start) / length));
    const between = column => column[from] + (column[to] - column[from]) * part;
    const point = part > 0 ? to : from;
    return { at: [between(path.x), between(path.y), between(path.z)], point, block: path.block[point] };
}

/** The point where a block ends, or the last one before it. */
export function endOfBlock(path, block) {
    return Math.max(0, lastAtMost(path.block, block));
}
