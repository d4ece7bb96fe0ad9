// Pages that open without the server: the prove-outs that this tablet has seen are kept for the person who is signed in, and say how old
// they are. What a step waits for is on them; what a blind reading should be is not. A sign-out takes them away.
(() => {
    "use strict";

    const said = window.handwheelSaid;
    const root = document.documentElement;
    const { me, storage, stillLeaving } = window.handwheelHere;
    const { page, isLost, isOfStep } = window.handwheelTablet;
    const pagesName = "handwheel-pages";
    const keptFor = 14 * 24 * 60 * 60 * 1000;
    const dwell = 1200;
    const reloadPause = 15000;
    const ownPath = "/floor/no-connection";
    const heardName = "handwheel-heard";
    const ticks = ["ticked", "findings-seen"];
    const live = !("kept" in root.dataset);
    const without = "without" in root.dataset;

    const pageOf = (proveOut) => `/floor/prove-outs/${proveOut}/kept`;

    // ---- keeping ---------------------------------------------------------------------------------------------------

    async function drop(isGone) {
        if (!("caches" in window)) return;
        const cache = await caches.open(pagesName);
        for (const request of await cache.keys()) if (isGone((await cache.match(request)).headers)) await cache.delete(request);
    }

    // What the server no longer has is taken away here too.
    async function keepPage(proveOut) {
        const asked = Date.now();
        const answer = await fetch(pageOf(proveOut), { cache: "no-store", redirect: "manual" });
        const cache = await caches.open(pagesName);
        if (answer.status === 404) await cache.delete(pageOf(proveOut));
        if (!answer.ok || answer.headers.get("Handwheel-Person") !== me.id) return;
        await cache.put(pageOf(proveOut), answer);
        keepSent(proveOut, sentBefore(proveOut).filter((sent) => sent.at > asked));
        if (proveOut === page.proveOut) root.dataset.keeps = "";
    }

    // On a page without a step there is time to look how the others that are kept stand by now.
    async function keepAll() {
        const others = document.querySelector("[data-step]") ? [] : await keptProveOuts();
        for (const proveOut of new Set([page.proveOut, ...others].filter(Boolean))) await keepPage(proveOut);
    }

    const proveOutOf = (request) => new URL(request.url).pathname.split("/").at(-2);
    const keptProveOuts = async () => (await (await caches.open(pagesName)).keys()).map(proveOutOf);

    async function keep() {
        if (!("caches" in window) || !("serviceWorker" in navigator)) return;
        const isGone = (headers) =>
            !me.id ||
            headers.get("Handwheel-Person") !== me.id ||
            Date.now() - Date.parse(headers.get("Handwheel-At")) > keptFor;
        await drop(isGone);
        await (await caches.open("handwheel-choices")).put("/floor/language", new Response(root.lang));
        await navigator.serviceWorker.register("/sw.js", { scope: "/floor", updateViaCache: "none" });
        if (me.id) setTimeout(() => keepAll().catch(() => {}), dwell);
    }

    // ---- what the server took since the page was kept ----------------------------------------------------------------

    const sentName = (proveOut) => `handwheel-sent ${proveOut}`;
    const sentBefore = (proveOut) => storage((kept) => JSON.parse(kept.getItem(sentName(proveOut)))) || [];

    const keepSent = (proveOut, sent) =>
        storage((kept) =>
            sent.length > 0 ? kept.setItem(sentName(proveOut), JSON.stringify(sent)) : kept.removeItem(sentName(proveOut)),
        );

    function sent(entry) {
        if (!isOfStep(entry.act) || entry.proveOut !== page.proveOut) return;
        keepSent(page.proveOut, [...sentBefore(page.proveOut), { step: entry.step, kind: entry.act.kind, at: Date.now() }]);
    }

    // ---- a kept page -------------------------------------------------------------------------------------------------

    let shown = null;
    let told = "";

    const templates = [...document.querySelectorAll("template[data-step]")];
    const titleOf = (template) => `${template.dataset.card}: ${template.dataset.title}`;

    function stateOf(rows) {
        const acts = rows.filter((row) => isOfStep(row.act) && !row.refused && row.proveOut === page.proveOut);
        const all = [...acts.map((row) => ({ step: row.step, kind: row.act.kind })), ...sentBefore(page.proveOut)];
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

    const wasPressed = without && location.search.includes("pressed");
    const showNow = () => (location.pathname === ownPath ? location.assign("/floor") : location.reload());

    function backAgain(busy) {
        const lastTime = Number(storage(() => sessionStorage.getItem("handwheel-reload")) || 0);
        if (!busy && Date.now() - lastTime > reloadPause && !wasPressed) {
            storage(() => sessionStorage.setItem("handwheel-reload", Date.now()));
            navigator.serviceWorker?.controller?.postMessage("back");
            showNow();
            return;
        }
        document.getElementById("back-again").hidden = false;
    }

    // ---- the page for those that were not kept -----------------------------------------------------------------------

    const hazardsOf = (page) => [...page.querySelectorAll(".hazard li")].map((one) => one.textContent.trim());

    function warn(line, hazards) {
        line.querySelector(".signal > span").textContent = hazards.join("; ");
        line.querySelector(".signal").hidden = hazards.length === 0;
    }

    // Who leaves takes their pages along, and leaves what could hurt: the next person has no server to ask.
    async function leave() {
        try {
            if (isLost() && "caches" in window) await keepHeard(await caches.open(pagesName));
        } finally {
            await drop(() => true);
        }
    }

    async function keepHeard(cache) {
        const heard = [];
        for (const request of await cache.keys()) {
            const answer = await cache.match(request);
            const hazards = hazardsOf(new DOMParser().parseFromString(await answer.text(), "text/html"));
            const at = Date.parse(answer.headers.get("Handwheel-At"));
            if (hazards.length > 0) heard.push({ title: decodeURIComponent(answer.headers.get("Handwheel-Title")), hazards, at });
        }
        storage((kept) => kept.setItem(heardName, JSON.stringify(heard)));
    }

    function tellHeard() {
        const heard = storage((kept) => JSON.parse(kept.getItem(heardName))) || [];
        document.getElementById("last-heard").hidden = heard.length === 0;
        document.querySelector("#last-heard ul").replaceChildren(
            ...heard.map(({ title, hazards, at }) => {
                const line = document.getElementById("kept-line").content.firstElementChild.cloneNode(true);
                const name = document.createElement("b");
                name.textContent = title;
                line.querySelector("a").replaceWith(name);
                warn(line, hazards);
                line.querySelector("p[data-stands]").textContent = said`As it was ${window.handwheelTold.age(at)} ago.`;
                return line;
            }),
        );
    }

    async function keptLine(cache, request) {
        const answer = await cache.match(request);
        const { headers } = answer;
        const of = new DOMParser().parseFromString(await answer.text(), "text/html");
        const line = document.getElementById("kept-line").content.firstElementChild.cloneNode(true);
        const link = line.querySelector("a");
        link.href = new URL(request.url).pathname.replace(/\/kept$/, "");
        link.textContent = decodeURIComponent(headers.get("Handwheel-Title"));
        const hazards = hazardsOf(of);
        const stands = of.querySelector("[data-stands]");
        warn(line, hazards);
        line.querySelector("p[data-stands]").textContent =
            said`As it was ${window.handwheelTold.age(Date.parse(headers.get("Handwheel-At")))} ago: ${stands?.textContent.trim() ?? ""}`;
        return { line, rank: stands?.dataset.ended !== undefined ? 2 : hazards.length > 0 ? 0 : 1 };
    }

    // What could hurt first, what has ended last.
    async function listPages() {
        const list = document.getElementById("kept-pages");
        if (!list || !("caches" in window)) return;
        const cache = await caches.open(pagesName);
        const lines = await Promise.all((await cache.keys()).map((request) => keptLine(cache, request)));
        lines.sort((one, other) => one.rank - other.rank);
        list.replaceChildren(...lines.map(({ line }) => line));
        document.getElementById("kept-none").hidden = lines.length > 0;
    }

    window.handwheelKept = { sent, backAgain, leave, show: (rows) => (live ? offer(rows) : showKept(rows)) };

    function showWithout() {
        document.getElementById("without-pressed").hidden = !wasPressed;
        document.getElementById("without-left").hidden = me.id !== "" || !location.search.includes("left");
        if (!me.id) tellHeard();
        listPages();
    }

    if (without) showWithout();
    else if (!live && me.leaving) location.replace(`${ownPath}?left`);
    else if (live && !stillLeaving()) keep().catch(() => {});
    if (live) storage((kept) => kept.removeItem(heardName));
    document.getElementById("back-again-show")?.addEventListener("click", showNow);
})();
