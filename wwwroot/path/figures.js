// What stands in words beside the picture: the figures of a block, and what was found at its line.
const by = id => document.getElementById(id);

/** Tip, distance-to-go and modal words of the block. */
export class Figures {
    show(at, quiet) {
        document.querySelector("[data-offset]").textContent = at.workOffset;
        this.#row("path-at", at.at);
        this.#row("path-togo", at.toGo);
        by("path-raised").lastElementChild.textContent = at.toGoRaised;
        by("path-modal").replaceChildren(...[at.tool > 0 ? `T${at.tool}` : "no tool yet", ...at.modal].map(word => element("span", word)));
        by("path-notes").replaceChildren(...at.notes.map(note => element("li", note)));
        if (!quiet)
            by("path-words").textContent = at.words;
    }

    #row(id, values) {
        const cells = by(id).querySelectorAll("td");
        values.forEach((value, i) => cells[i].textContent = value);
    }
}

/** What was found at a line: short at the line itself, in full below the text. */
export class Beside {
    constructor(scene) {
        this.byPlace = new Map();
        for (const finding of scene.findings) {
            const at = `${finding.file ?? ""}\n${finding.line}`;
            this.byPlace.set(at, [...(this.byPlace.get(at) ?? []), finding]);
        }
    }

    at(file, line) {
        const found = this.byPlace.get(`${file ?? ""}\n${line}`);
        if (!found)
            return null;
        const worst = ["stop", "check", "note"].find(level => found.some(f => f.level === level));
        return { worst, element: () => {
            const marks = element("span", "");
            marks.className = "marks";
            const first = found.find(f => f.level === worst);
            marks.append(mark(worst), element("span", found.length > 1 ? `${first.id} + ${found.length - 1}` : first.id));
            return marks;
        } };
    }

    show(file, line) {
        const found = this.byPlace.get(`${file ?? ""}\n${line}`) ?? [];
        by("path-beside").replaceChildren(...found.map(f => {
            const note = document.createElement("div");
            note.className = `finding finding-${f.level}`;
            const head = element("p", "");
            head.className = "finding-head";
            const link = element("a", f.id);
            link.href = `/findings/${f.id}`;
            head.append(mark(f.level), link);
            const remedy = element("p", f.remedy);
            remedy.className = "finding-remedy";
            note.append(head, element("p", f.message), remedy);
            return note;
        }));
    }
}

function mark(level) {
    return by("mark-" + level).content.cloneNode(true);
}

function element(name, text) {
    const made = document.createElement(name);
    made.textContent = text;
    return made;
}
