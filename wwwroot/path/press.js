// Which piece of the path lies under a finger or a mouse.

/** Pieces that lie on each other as far as a person can tell, in pixels. */
const together = 3;

/**
 * Passes of the path within reach of a place on the page, the front one first where several lie on each other. Pieces that follow each other
 * are one pass, which the nearest of them stands for: { part, piece, block, since, at, off, depth }, with the place on it that is nearest.
 * @param parts as drawn (frame.js); those that are hidden left out by the caller
 * @param onPage place => [right, down, towards the eye]
 * @param counts (since, block) => whether pieces that begin and end in these blocks are looked at
 */
export function passesAt(parts, onPage, x, y, reach, counts = () => true) {
    const passes = [];
    for (const part of parts) {
        let last = null;
        for (let piece = 0; piece < part.blocks.length; piece++) {
            const [since, block] = [part.since[piece], part.blocks[piece]];
            const hit = counts(since, block) ? hitAt(part.points, piece, onPage, x, y) : null;
            if (!hit || hit.off > reach)
                continue;
            const found = { ...hit, part, piece, block, since };
            if (last && last.end === piece - 1) {
                last.end = piece;
                if (found.off < last.best.off)
                    last.best = found;
            } else
                passes.push(last = { best: found, end: piece });
        }
    }
    const nearest = Math.min(...passes.map(pass => pass.best.off));
    return passes.map(pass => pass.best).filter(hit => hit.off <= nearest + together).sort((a, b) => b.depth - a.depth);
}

function hitAt(points, piece, onPage, x, y) {
    const i = 6 * piece;
    const [from, to] = [{ x: points[i], y: points[i + 1], z: points[i + 2] }, { x: points[i + 3], y: points[i + 4], z: points[i + 5] }];
    const [a, b] = [onPage(from), onPage(to)];
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    const length = dx * dx + dy * dy;
    const part = length > 0 ? Math.min(1, Math.max(0, ((x - a[0]) * dx + (y - a[1]) * dy) / length)) : 0;
    return {
        off: Math.hypot(x - a[0] - part * dx, y - a[1] - part * dy),
        depth: a[2] + part * (b[2] - a[2]),
        at: { x: from.x + part * (to.x - from.x), y: from.y + part * (to.y - from.y), z: from.z + part * (to.z - from.z) },
    };
}
