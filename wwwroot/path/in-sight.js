// Where on a box somebody sees it: what stands before a place hides it.

const axes = ["x", "y", "z"];
const plus = (at, way, far) => ({ x: at.x + way.x * far, y: at.y + way.y * far, z: at.z + way.z * far });

/** The way to the eye: along it a place stays where it is on the page and comes nearer. */
export function wayToEye(onPage) {
    const middle = onPage({ x: 0, y: 0, z: 0 });
    const [x, y, z] = [{ x: 1, y: 0, z: 0 }, { x: 0, y: 1, z: 0 }, { x: 0, y: 0, z: 1 }].map(at => onPage(at).map((value, i) => value - middle[i]));
    const way = { x: y[0] * z[1] - z[0] * y[1], y: z[0] * x[1] - x[0] * z[1], z: x[0] * y[1] - y[0] * x[1] };
    const nearer = way.x * x[2] + way.y * y[2] + way.z * z[2];
    const length = Math.hypot(way.x, way.y, way.z) * Math.sign(nearer);
    return { x: way.x / length, y: way.y / length, z: way.z / length };
}

/** Whether the ray from a place leads through a box. */
function meets(at, way, box) {
    let [from, to] = [0, Infinity];
    for (const axis of axes) {
        if (Math.abs(way[axis]) < 1e-9) {
            if (at[axis] <= box.min[axis] || at[axis] >= box.max[axis])
                return false;
            continue;
        }
        const [a, b] = [(box.min[axis] - at[axis]) / way[axis], (box.max[axis] - at[axis]) / way[axis]];
        [from, to] = [Math.max(from, Math.min(a, b)), Math.min(to, Math.max(a, b))];
    }
    return to > from + 1e-9;
}

/** Places on the faces that are turned to the eye, the top first and the middle of a face first. */
function* placesOn(box, way) {
    const parts = [0.5, 0.2, 0.8, 0.05, 0.95];
    for (const across of ["z", "y", "x"]) {
        if (Math.abs(way[across]) < 1e-3)
            continue;
        const [one, other] = axes.filter(axis => axis !== across);
        const at = { [across]: way[across] > 0 ? box.max[across] : box.min[across] };
        for (const a of parts)
            for (const b of parts)
                yield { ...at, [one]: box.min[one] + (box.max[one] - box.min[one]) * a, [other]: box.min[other] + (box.max[other] - box.min[other]) * b };
    }
}

/** A place of the box that nothing else hides; null: all of it is hidden. */
export function placeInSight(box, others, way, size) {
    for (const place of placesOn(box, way)) {
        const before = plus(place, way, size * 1e-5);
        if (!others.some(other => meets(before, way, other)))
            return place;
    }
    return null;
}
