// The text of a program, of which only the lines in sight are on the page, however many there are.

const rowHeight = 24;
// Browsers do not lay out boxes of any height; a longer text is scrolled in proportion.
const tallest = 8_000_000;
const chunk = 200;

export class Listing {
    /**
     * @param box where it stands
     * @param ask (file, from, count) => the lines, from the server
     * @param marks (file, line) => levels and names of what was found there
     * @param chosen (file, line) => somebody pressed a line
     */
    constructor(box, ask, marks, chosen) {
        Object.assign(this, { box, ask, marks, chosen, file: undefined, count: 1, line: 0, first: 1, chunks: new Map(), asked: new Set() });
        this.spacer = document.createElement("div");
        this.rows = document.createElement("div");
        this.rows.className = "path-rows";
        box.replaceChildren(this.spacer, this.rows);
        box.addEventListener("scroll", () => this.#draw());
        box.addEventListener("wheel", event => this.#wheel(event), { passive: false });
        box.addEventListener("keydown", event => this.#key(event));
        box.addEventListener("click", event => {
            const row = event.target.closest("[data-line]");
            if (row)
                chosen(this.file, Number(row.dataset.line));
        });
        new ResizeObserver(() => this.#draw()).observe(box);
    }

    async open(file) {
        if (this.file === file && this.chunks.size > 0)
            return;
        this.file = file;
        this.chunks.clear();
        this.asked.clear();
        await this.#fetch(0);
        this.#draw();
    }

    /** Marks a line and brings it into sight, unless it is there already. */
    async show(file, line) {
        await this.open(file);
        this.line = line;
        const seen = this.#visible();
        if (line < this.first + 2 || line > this.first + seen - 3)
            this.#scrollTo(line - Math.floor(seen / 3));
        this.#draw();
    }

    get #isScaled() {
        return this.count * rowHeight > tallest;
    }

    #visible() {
        return Math.max(3, Math.floor(this.box.clientHeight / rowHeight));
    }

    #last() {
        return Math.max(1, this.count - this.#visible() + 1);
    }

    #scrollTo(first) {
        const line = Math.min(this.#last(), Math.max(1, first));
        this.box.scrollTop = this.#isScaled
            ? ((line - 1) / Math.max(1, this.#last() - 1)) * (this.box.scrollHeight - this.box.clientHeight)
            : (line - 1) * rowHeight;
        this.exact = this.#isScaled ? { line, top: this.box.scrollTop } : null;
    }

    #firstLine() {
        if (!this.#isScaled)
            return 1 + Math.floor(this.box.scrollTop / rowHeight);
        if (this.exact?.top === this.box.scrollTop)
            return this.exact.line;
        const way = this.box.scrollHeight - this.box.clientHeight;
        return 1 + Math.round((this.box.scrollTop / Math.max(1, way)) * (this.#last() - 1));
    }

    #wheel(event) {
        if (!this.#isScaled || event.deltaY === 0)
            return;
        event.preventDefault();
        this.#scrollTo(this.first + Math.sign(event.deltaY) * Math.max(1, Math.round(Math.abs(event.deltaY) / rowHeight)));
        this.#draw();
    }

    #key(event) {
        const step = { ArrowDown: 1, ArrowUp: -1, PageDown: this.#visible(), PageUp: -this.#visible(), Home: -this.count, End: this.count }[event.key];
        if (step === undefined)
            return;
        event.preventDefault();
        this.chosen(this.file, Math.min(this.count, Math.max(1, this.line + step)), Math.sign(step));
    }

    #draw() {
        // null is the main program; before a file is opened there is nothing to draw, and a draw must not fetch it half
        if (this.file === undefined)
            return;
        this.first = this.#firstLine();
        const end = Math.min(this.count, this.first + this.#visible() + 2);
        this.rows.style.transform = `translateY(${this.#isScaled ? this.box.scrollTop : (this.first - 1) * rowHeight}px)`;
        const rows = [];
        for (let line = this.first; line <= end; line++)
            rows.push(this.#row(line));
        this.rows.replaceChildren(...rows);
        for (const place of new Set([Math.floor((this.first - 1) / chunk), Math.floor((end - 1) / chunk)]))
            if (!this.asked.has(place))
                this.#fetch(place).then(came => came && this.#draw());
    }

    async #fetch(place) {
        this.asked.add(place);
        const file = this.file;
        const answer = await this.ask(file, place * chunk + 1, chunk);
        if (file !== this.file)
            return false;
        if (answer === null) {
            this.asked.delete(place);
            return false;
        }
        this.count = answer.of;
        this.spacer.style.height = `${Math.min(this.count * rowHeight, tallest)}px`;
        if (this.chunks.size > 50)
            this.chunks.clear(), this.asked.clear(), this.asked.add(place);
        this.chunks.set(place, answer.lines);
        return true;
    }

    #row(line) {
        const row = document.createElement("div");
        row.className = "path-row";
        row.dataset.line = line;
        const number = document.createElement("span");
        number.className = "number";
        number.textContent = line;
        const code = document.createElement("code");
        const pieces = this.chunks.get(Math.floor((line - 1) / chunk))?.[(line - 1) % chunk];
        for (const [kind, text] of pieces ?? []) {
            const piece = document.createElement("span");
            if (kind)
                piece.className = kind;
            piece.textContent = text;
            code.append(piece);
        }
        row.append(number, code);
        const found = this.marks(this.file, line);
        if (found) {
            row.classList.add("has-" + found.worst);
            row.append(found.element());
        }
        if (line === this.line) {
            row.classList.add("here");
            row.setAttribute("aria-current", "true");
        }
        return row;
    }
}
