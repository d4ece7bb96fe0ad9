// What the banner says, one of three things: not saved, saved, refused (and why). It is counted from the queue and nothing else.
(() => {
    "use strict";

    const said = window.handwheelSaid;
    const queue = window.handwheelQueue;
    // On a phone the banner leaves the step its place: fewer names, and what explains folded behind what is so.
    const narrow = matchMedia("(max-width: 640px)");
    const named = () => (narrow.matches ? 1 : 3);
    const longest = () => (narrow.matches ? 34 : 48);
    const tooOld = 24 * 60 * 60 * 1000;

    const marks = {
        saved: "M5 19 L14 28 L31 8",
        waiting: "M18 4 A14 14 0 1 1 17.9 4 M18 9 V19 L25 23",
        refused: "M7 7 L29 29 M29 7 L7 29",
    };

    const two = (number) => String(number).padStart(2, "0");
    const clock = (when) => `${two(when.getHours())}:${two(when.getMinutes())}`;

    // The names stand here and not in the browser's locale data, so that every tablet of a shop writes a day alike.
    const months = [said`Jan`, said`Feb`, said`Mar`, said`Apr`, said`May`, said`Jun`, said`Jul`, said`Aug`, said`Sep`, said`Oct`, said`Nov`, said`Dec`];

    const moment = (when) =>
        when.toDateString() === new Date().toDateString() ? clock(when) : `${when.getDate()} ${months[when.getMonth()]} ${clock(when)}`;

    function age(since) {
        const minutes = Math.max(0, Math.floor((Date.now() - since) / 60000));
        if (minutes < 1) return said`less than a minute`;
        if (minutes < 60) return said`${minutes} min`;
        return minutes < 48 * 60 ? said`${Math.floor(minutes / 60)} h ${minutes % 60} min` : said`${Math.floor(minutes / 1440)} days`;
    }

    // What is so in one breath, and what explains it: [ so, why ].
    function part([so, why]) {
        if (!why) return [so];
        const explains = document.createElement("span");
        explains.className = "explains";
        explains.textContent = ` ${why}`;
        return [so, explains];
    }

    function say(state, lines) {
        const box = document.getElementById("saved");
        if (!box) return;
        const words = box.querySelector("[data-words]");
        if (box.dataset.state !== state) {
            box.dataset.state = state;
            box.querySelector("path").setAttribute("d", marks[state]);
        }
        const text = lines.map((line) => line.filter(Boolean).join(" ")).join(" ");
        if (words.textContent === text) return;
        words.replaceChildren(...lines.flatMap((line, i) => (i > 0 ? [" ", ...part(line)] : part(line))));
        const more = box.querySelector("[data-more]");
        more.hidden = !lines.some(([, why]) => why);
        more.setAttribute("aria-label", said`All of it`);
    }

    document.querySelector("#saved [data-more]")?.addEventListener("click", (event) => {
        const open = document.getElementById("saved").classList.toggle("open");
        event.currentTarget.setAttribute("aria-expanded", open);
    });
    narrow.addEventListener("change", () => dispatchEvent(new Event("handwheel-queue")));

    const short = (words) => (words.length > longest() ? `${words.slice(0, longest() - 1).trimEnd()}…` : words);

    function some(rows) {
        const left = rows.length - named();
        return rows.slice(0, named()).map((row) => short(row.says)).join("; ") + (left > 0 ? said`; and ${left} more` : "");
    }

    function linesOf({ me, rows, lostAt, signedOut, newer }) {
        const mine = rows.filter((row) => row.person === me.id);
        const refused = mine.filter((row) => row.refused);
        const waiting = mine.filter((row) => !row.refused);
        const others = rows.filter((row) => row.person !== me.id);
        const lines = [];
        if (refused.length > 0) lines.push([said`REFUSED: ${some(refused)}.`]);
        if (waiting.length > 0) lines.push([said`NOT SAVED: ${some(waiting)}.`, said`Kept on this tablet.`]);
        if (document.querySelector("form[data-unsaved]")) lines.push([said`NOT SAVED: the file chosen on this page.`]);
        const oldest = Math.min(...rows.filter((row) => !row.refused).map((row) => row.order));
        if (Date.now() - oldest > tooOld)
            lines.push([said`NOT SAVED for ${age(oldest)}: bring this tablet to where it reaches the server. A browser may clear what it keeps.`]);
        const { kept, without } = document.documentElement.dataset;
        const lost = lostAt ? [said`NO CONNECTION since ${moment(lostAt)}.`, said`Signing needs the server.`] : [];
        if (kept && without === undefined)
            lines.push([said`OPENED WITHOUT CONNECTION: this page is ${age(Date.parse(kept))} old.`, lost.join(" ")]);
        else if (lostAt) lines.push(lost);
        if (signedOut) lines.push([said`SIGNED OUT on the server. Sign in as ${me.name} to save what is entered here.`]);
        for (const name of new Set(others.map((row) => row.personName))) {
            const theirs = others.filter((row) => row.personName === name);
            // Signing in saves what waits; what was refused is only told then, and why.
            const told = theirs.filter((row) => row.refused && !row.stuck).length;
            const unsaved = theirs.length - told;
            if (unsaved > 0) lines.push([said`NOT SAVED: ${unsaved} by ${name}, who must sign in on this tablet to save them.`]);
            if (told > 0) lines.push([said`REFUSED: ${told} by ${name}, who must sign in on this tablet to see why.`]);
        }
        if (newer) lines.push([said`A NEWER VERSION of this page is on the server: it comes when the next page is opened.`]);
        if (queue.trouble()) lines.push([queue.trouble()]);
        // A name cut short ends its own sentence.
        return { lines: lines.map(([so, why]) => [so.replace("….", "…"), why]), refused, waiting };
    }

    function button(words, pressed) {
        const made = document.createElement("button");
        made.type = "button";
        made.className = "act";
        made.textContent = words;
        made.addEventListener("click", pressed);
        return made;
    }

    function refusal(row, actions) {
        const item = document.createElement("div");
        item.className = "refusal";
        const head = document.createElement("h2");
        const came = row.stuck ? said`Not saved, the server fails on it` : said`Refused, nothing was recorded`;
        const when = moment(new Date(row.madeAt));
        head.textContent = row.kind === "photo" ? said`${came}: ${row.says}, taken ${when}` : said`${came}: ${row.says}, typed ${when}`;
        const why = document.createElement("ul");
        why.append(
            ...row.refused.map((reason) => {
                const line = document.createElement("li");
                line.textContent = reason;
                return line;
            }),
        );
        item.append(head, why);
        if (row.act.typed) {
            const typed = document.createElement("p");
            typed.textContent = said`Typed here: ${row.act.typed}. Where somebody else read another value, read the register again together.`;
            item.append(typed);
        }
        if (row.stuck) item.append(button(said`Try it again`, () => actions.again(row)));
        const out = row.kind === "photo" ? said`Seen, take this photo out` : said`Seen, show the step as it is now`;
        item.append(button(out, () => actions.out(row)));
        return item;
    }

    function showRefused(refused, actions) {
        const box = document.getElementById("refused");
        if (!box) return;
        box.hidden = refused.length === 0;
        // Typed once more under the same key and refused again: another answer.
        const told = refused.map((row) => `${row.key} ${row.refusedAt}`).join();
        if (box.dataset.told === told) return;
        box.dataset.told = told;
        box.replaceChildren(...refused.map((row) => refusal(row, actions)));
        if (refused.length > 0) box.scrollIntoView({ block: "nearest" });
    }

    function show(state, actions) {
        const { lines, refused, waiting } = linesOf(state);
        showRefused(refused, actions);
        if (refused.length > 0) say("refused", lines);
        else if (lines.length > 0) say("waiting", lines);
        else say("saved", [[said`Saved: everything entered here is on the server.`]]);
        return waiting;
    }

    // What came of a form, in words beside it.
    function beside(form, ...lines) {
        let box = form.querySelector("[data-answer]");
        if (!box) {
            box = document.createElement("div");
            box.className = "refusal";
            box.setAttribute("role", "alert");
            box.dataset.answer = "";
            form.append(box);
        }
        box.hidden = lines.length === 0;
        box.replaceChildren(
            ...lines.map((line) => {
                const p = document.createElement("p");
                p.textContent = line;
                return p;
            }),
        );
        if (lines.length > 0) box.scrollIntoView({ block: "nearest" });
    }

    window.handwheelTold = { show, beside, age, moment };
})();
