// Pages that open without the server: the prove-outs that this tablet has seen are kept for the person who is signed in, and say how old
// they are. What a step waits for is on them; what a blind reading should be is not. A sign-out takes them away.
(() => {
    "use strict";

    const said = window.handwheelSaid;
    const root = document.documentElement;
    const { me, page, isLost, isOfStep } = window.handwheelTablet;
    const pagesName = "handwheel-pages";
    const keptFor = 14 * 24 * 60 * 60 * 1000;
    const dwell = 1200;
    const reloadPause = 15000;
    const sentName = `handwheel-sent ${page.proveOut}`;
    const leftName = "handwheel-left";
    const ticks = ["ticked", "findings-seen"];
    const live = !("kept" in root.dataset);
    const without = "without" in root.dataset;

    function storage(work) {
        try {
            return work(localStorage);
        } catch {
            return null;
        }
    }

    const pageOf = (proveOut) => `/floor/prove-outs/${proveOut}/kept`;

    // ---- keeping ---------------------------------------------------------------------------------------------------

    async function drop(isGone) {
        if (!("caches" in window)) return;
        const cache = await caches.open(pagesName);
        for (const request of await cache.keys()) if (isGone((await cache.match(request)).headers)) await cache.delete(request);
    }

    async function keepThisPage() {
        const asked = Date.now();
        const answer = await fetch(pageOf(page.proveOut), { cache: "no-store", redirect: "manual" });
        if (!answer.ok || answer.headers.get("Handwheel-Person") !== me.id) return;
        const cache = await caches.open(pagesName);
        await cache.put(pageOf(page.proveOut), answer);
        keepSent(sentBefore().filter((sent) => sent.at > asked));
        root.dataset.keeps = "";
    }

    async function keep() {
        if (!("caches" in window) || !("serviceWorker" in navigator)) return;
        const isGone = (headers) =>
            !me.id ||
            headers.get("Handwheel-Person") !== me.id ||
            Date.now() - Date.parse(headers.get("Handwheel-At")) > keptFor;
        await drop(isGone);
        await (await caches.open("handwheel-choices")).put("/floor/language", new Response(root.lang));
        await navigator.serviceWorker.register("/sw.js", { scope: "/floor", updateViaCache: "none" });
        if (me.id && page.proveOut) setTimeout(() => keepThisPage().catch(() => {}), dwell);
    }

    // ---- what the server took since the page was kept ----------------------------------------------------------------

    const sentBefore = () => storage((kept) => JSON.parse(kept.getItem(sentName))) || [];

    const keepSent = (sent) =>
        storage((kept) => (sent.length > 0 ? kept.setItem(sentName, JSON.stringify(sent)) : kept.removeItem(sentName)));

    function sent(entry) {
        if (!isOfStep(entry.act) || entry.proveOut !== page.proveOut) return;
        keepSent([...sentBefore(), { step: entry.step, kind: entry.act.kind, at: Date.now() }]);
    }

    // ---- a kept page -------------------------------------------------------------------------------------------------

    let shown = null;
    let told = "";

    const templates = [...document.querySelectorAll("template[data-step]")];
    const titleOf = (template) => `${template.dataset.card}: ${template.dataset.title}`;

    function stateOf(rows) {
        const acts = rows.filter((row) => isOfStep(row.act) && !row.refused && row.proveOut === page.proveOut);
        const all = [...acts.map((row) => ({ step: row.step, kind: row.act.kind })), ...sentBefore()];
        const done = new Set(all.filter((act) => ticks.includes(act.kind)).map((act) => act.step));
        return {
            interrupted: all.some((act) => act.kind === "interrupted"),
            touched: new Set(all.map((act) => act.step)),
            isFree: (template) => (template.dataset.after || "").split(" ").every((step) => !step || done.has(step)),
        };
    }

    function put(template) {
        const place = document.getElementById("kept-step");
        shown = template.dataset.step;
        place.replaceChildren(template.content.cloneNode(true));
        for (const input of place.querySelectorAll("input[data-keypad]")) input.inputMode = "none";
        window.handwheelDrafts.restore(place);
    }

    function tell(...parts) {
        shown = null;
        document.getElementById("kept-step").replaceChildren(
            ...parts.map((part) => {
                if (typeof part !== "string") return part;
                const p = document.createElement("p");
                p.textContent = part;
                return p;
            }),
        );
    }

    function goOn(template) {
        const button = document.createElement("button");
        button.type = "button";
        button.className = "act main";
        button.textContent = said`Go on: ${titleOf(template)}`;
        button.addEventListener("click", () => {
            put(template);
            scrollTo(0, 0);
        });
        return button;
    }

    // A person goes on with a press of their own: nothing new slides under a finger that has just pressed.
    function showKept(rows) {
        const list = document.getElementById("kept-list");
        if (!list) return;
        const state = stateOf(rows);
        const can = state.interrupted ? [] : templates.filter((t) => !state.touched.has(t.dataset.step) && state.isFree(t));
        const now = JSON.stringify([can.map((t) => t.dataset.step), [...state.touched], state.interrupted]);
        if (told === now) return;
        const first = told === "";
        told = now;
        list.replaceChildren(
            ...templates.map((template) => {
                const line = document.createElement("li");
                const button = goOn(template);
                button.className = "act";
                button.textContent = titleOf(template);
                button.disabled = !can.includes(template);
                line.append(button, state.touched.has(template.dataset.step) ? said` recorded, not judged yet` : "");
                return line;
            }),
        );
        if (state.interrupted) return tell(said`An interruption is recorded. Nothing goes on here until the server has it: then the registers are asked for again.`);
        const asked = new URL(location.href).searchParams.get("step");
        const wanted = can.find((t) => t.dataset.step === asked) || can[0];
        if (shown && can.some((t) => t.dataset.step === shown)) return;
        if (!wanted) return tell(said`Nothing more can be recorded here without the server. What comes next is opened, judged or signed there.`);
        if (first && state.touched.size === 0) put(wanted);
        else tell(said`What was recorded is kept on this tablet. Whether it is right is said when the server has it.`, goOn(wanted));
    }

    // On the page as the server sent it: the way on, while what was pressed waits.
    function offer(rows) {
        const step = document.querySelector("[data-step]")?.dataset.step;
        const waits = step && rows.some((row) => isOfStep(row.act) && !row.refused && row.step === step);
        const there = document.getElementById("go-on-without");
        if (!isLost() || !waits || !("keeps" in root.dataset)) return there?.remove();
        if (there) return;
        const link = document.createElement("a");
        link.id = "go-on-without";
        link.className = "button act main";
        link.href = `/floor/prove-outs/${page.proveOut}`;
        link.textContent = said`Go on without connection`;
        document.querySelector(".take")?.append(link);
    }

    function backAgain(busy) {
        const lastTime = Number(storage(() => sessionStorage.getItem("handwheel-reload")) || 0);
        if (!busy && Date.now() - lastTime > reloadPause && !location.search.includes("pressed")) {
            storage(() => sessionStorage.setItem("handwheel-reload", Date.now()));
            navigator.serviceWorker?.controller?.postMessage("back");
            location.reload();
            return;
        }
        document.getElementById("back-again").hidden = false;
    }

    async function listPages() {
        const list = document.getElementById("kept-pages");
        if (!list || !("caches" in window)) return;
        const cache = await caches.open(pagesName);
        const lines = [];
        for (const request of await cache.keys()) {
            const { headers } = await cache.match(request);
            const link = document.createElement("a");
            link.className = "button act";
            link.href = new URL(request.url).pathname.replace(/\/kept$/, "");
            link.textContent = decodeURIComponent(headers.get("Handwheel-Title"));
            const line = document.createElement("li");
            line.append(link, said` as it was ${window.handwheelTold.age(Date.parse(headers.get("Handwheel-At")))} ago`);
            lines.push(line);
        }
        list.replaceChildren(...lines);
        document.getElementById("kept-none").hidden = lines.length > 0;
    }

    // ---- who is here -------------------------------------------------------------------------------------------------

    // "Not me" counts at once, with or without the server: what was kept for this person goes, and the server is told when it is there.
    document.addEventListener("submit", (event) => {
        const form = event.target;
        if (!form.querySelector(".not-me")) return;
        event.preventDefault();
        storage((kept) => kept.setItem(leftName, me.id));
        me.leaving = true;
        const leave = () => (isLost() ? location.assign("/floor/no-connection?pressed") : form.submit());
        drop(() => true).then(leave, leave);
    });

    const hasLeft = () => me.id && storage((kept) => kept.getItem(leftName)) === me.id;

    function stillLeaving() {
        const left = storage((kept) => kept.getItem(leftName));
        if (!left) return false;
        storage((kept) => kept.removeItem(leftName));
        if (left !== me.id) return false;
        me.leaving = true;
        document.querySelector(".not-me")?.form.submit();
        return true;
    }

    window.handwheelKept = { sent, backAgain, show: (rows) => (live ? offer(rows) : showKept(rows)) };

    if (without) document.getElementById("without-pressed").hidden = !location.search.includes("pressed");
    if (without) listPages();
    else if (!live && hasLeft()) location.replace("/floor/no-connection");
    else if (live && !stillLeaving()) keep().catch(() => {});
    document.getElementById("back-again-show")?.addEventListener("click", () => {
        if (location.search.includes("pressed")) location.assign("/floor");
        else location.reload();
    });
})();
