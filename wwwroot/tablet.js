// The tablet's side of a page at the machine: entries wait in a durable queue until the server has them, and the
// banner says which of three things is so: not saved, saved, refused. Without this script every form still posts.
(() => {
    "use strict";

    const said = window.handwheelSaid;
    const root = document.documentElement;
    const { me } = window.handwheelHere;
    const page = { proveOut: root.dataset.proveOut || "", number: Number(root.dataset.number || "0") };
    const beatEvery = 2000;
    const beatPatience = 1500;
    const postPatience = 8000;
    const photoPatience = 120000;
    const slowNetwork = 20; // bytes in a millisecond
    const pauses = [1000, 2000, 4000, 8000, 15000];
    const failuresMost = 3;
    const longWait = 10000;
    const again = "the server answers again";

    const queue = window.handwheelQueue;
    const told = window.handwheelTold;
    const { actOf, stepOf } = window.handwheelForms;
    root.classList.add("scripted");

    // ---- talking to the server -----------------------------------------------------------------------------------

    // A captive portal or a proxy also answers 200; only our own JSON counts as an answer.
    async function ask(url, options, patience, giveUp) {
        const timeout = AbortSignal.timeout(patience);
        const answer = await fetch(url, {
            cache: "no-store",
            credentials: "same-origin",
            redirect: "manual",
            signal: giveUp ? AbortSignal.any([timeout, giveUp]) : timeout,
            ...options,
            headers: { "Handwheel-By": me.id, ...options.headers },
        });
        const kind = answer.headers.get("Content-Type") || "";
        if (!/^application\/(problem\+)?json/.test(kind)) throw new TypeError("no answer from the server");
        return { status: answer.status, body: await answer.json() };
    }

    // One send at a time of each kind; what hangs in a dead network is given up when the server answers again. A signature is not:
    // who is told "not signed" has to sign once more.
    let giveUp = new AbortController();

    function send(entry, { pin, stop } = {}) {
        const body = { basedOn: entry.basedOn, act: entry.act };
        if (pin !== undefined) body.pin = pin;
        const waited = Math.max(0, Date.now() - entry.order);
        if (entry.offline || waited > longWait) body.kept = { recorded: entry.madeAt, waited: Math.round(waited / 1000) };
        const headers = { "Content-Type": "application/json", "Idempotency-Key": entry.key };
        return ask(entry.url, { method: "POST", headers, body: JSON.stringify(body) }, postPatience, stop);
    }

    // The picture goes first, named by its bytes, so that sending it twice keeps it once; then the entry that names it.
    async function sendPhoto(entry, chosen) {
        const photo = chosen || (await queue.photo(entry.key));
        if (!photo) return { status: 410, body: { reasons: [said`The browser of this tablet has lost the picture. Take it again.`] } };
        const kept = await upload(photo);
        return kept.status === 200 ? send({ ...entry, act: { ...entry.act, sha256: kept.body.sha256 } }) : kept;
    }

    // A picture has the time that a slow network needs for it, whatever happens meanwhile, and twice as long when that was not enough.
    let slowUploads = 0;

    async function upload({ bytes, type }) {
        const needed = postPatience + bytes.byteLength / slowNetwork;
        const began = performance.now();
        const stop = new AbortController();
        const givenUp = () => setTimeout(() => stop.abort(again), Math.max(0, needed - (performance.now() - began)));
        giveUp.signal.addEventListener("abort", givenUp, { once: true });
        const patience = Math.min(photoPatience, needed * 2 ** slowUploads);
        try {
            const answer = await ask("/api/photos", { method: "POST", headers: { "Content-Type": type }, body: bytes }, patience, stop.signal);
            slowUploads = 0;
            return answer;
        } catch (fault) {
            if (fault.name === "TimeoutError") slowUploads++;
            throw fault;
        }
    }

    function reasonsOf(body) {
        if (Array.isArray(body.reasons) && body.reasons.length > 0) return body.reasons;
        return [body.detail || body.title || said`The server did not take it and gave no reason.`];
    }

    // ---- sending what waits --------------------------------------------------------------------------------------

    let tries = 0;
    let retry = 0;
    let signedOut = false;

    const isDown = (status, body) => [429, 502, 503, 504].includes(status) || /StillRunning$/.test(body.type || "");

    // A refusal was read by whoever has done something since that was accepted.
    async function forgetSeen(doneAt) {
        for (const row of await queue.everything())
            if (row.refused && row.kind !== "photo" && row.person === me.id && (row.refusedAt || 0) < doneAt)
                await queue.forget(row.key);
    }

    // True: the server has it. One entry that it will not take, or that it fails on, does not hold up the others.
    async function settle(entry, { status, body }) {
        if (isDown(status, body)) throw new TypeError("the server cannot take it now");
        if (status === 200) {
            await queue.forget(entry.key);
            if (entry.kind !== "photo") await forgetSeen(entry.order);
            if (entry.proveOut === page.proveOut && body.number === page.number + 1) page.number = body.number;
            window.handwheelKept?.sent(entry);
            tries = 0;
            return true;
        }
        const failed = (entry.failed || 0) + 1;
        if (status < 500) await queue.keep({ ...entry, refused: reasonsOf(body), refusedAt: Date.now() });
        else if (failed < failuresMost) await queue.keep({ ...entry, failed });
        else {
            const reasons = [said`The server failed on this ${failed} times, last with ${status}.`, ...reasonsOf(body)];
            await queue.keep({ ...entry, failed, refused: reasons, refusedAt: Date.now(), stuck: true });
        }
        return false;
    }

    // In the order they were made, each once a round; what was added meanwhile is taken too.
    async function sendAll(kind, how) {
        const passed = new Set();
        let last = null;
        let answered = false;
        for (;;) {
            const isNext = (row) =>
                row.person === me.id && !row.refused && !passed.has(row.key) && (row.kind === "photo") === (kind === "photo");
            const entry = (await queue.everything()).find(isNext);
            if (!entry) return { last, answered };
            passed.add(entry.key);
            const answer = await how(entry);
            answered = true;
            if (answer.status === 401) {
                signedOut = true;
                return { last, answered };
            }
            if (await settle(entry, answer)) last = entry;
            await show();
        }
    }

    const busy = { act: false, photo: false };

    async function flushOf(kind, how) {
        if (busy[kind] || !me.id || me.leaving) return null;
        busy[kind] = true;
        try {
            const { last, answered } = await sendAll(kind, how);
            if (answered) connected(true);
            if (await waits(kind)) later();
            return last;
        } catch (fault) {
            if (fault !== again) connected(false);
            later(fault === again ? 0 : undefined);
            return null;
        } finally {
            busy[kind] = false;
            await show();
        }
    }

    const waits = async (kind) =>
        (await queue.everything()).some((row) => row.person === me.id && !row.refused && (!kind || (row.kind === "photo") === (kind === "photo")));

    function later(pause = pauses[Math.min(tries++, pauses.length - 1)]) {
        clearTimeout(retry);
        if (!signedOut) retry = setTimeout(flush, pause);
    }

    // Photos come after the ticks and beside them: a slow picture delays no tick.
    async function flush() {
        clearTimeout(retry);
        if (busy.act) return later();
        const last = await flushOf("act", (entry) => send(entry, { stop: giveUp.signal }));
        if (last) moveOn(last);
        if (lostAt || signedOut || (await waits("act"))) return;
        const photo = await flushOf("photo", (entry) => sendPhoto(entry));
        if (photo && document.querySelector(`[data-takes="Photo"]`)?.dataset.step === photo.step) moveOn(photo);
    }

    // What is half typed holds the page where it is: the form that was sent says so, and is not pressed a second time.
    function moveOn(entry) {
        if (entry.proveOut !== page.proveOut) return;
        if (!dirty()) return location.replace(after(entry.step));
        const form = [...document.querySelectorAll("form[data-sent]")].find((sent) => sent.elements.key.value === entry.key);
        if (!form) return;
        form.dataset.done = "";
        told.beside(
            form,
            said`Saved on the server.`,
            said`Something else is half typed on this page, so it stays: send that, or clear it and load the page again.`,
        );
        show();
    }

    // The server shows the step that was worked on until it is settled, and then the next.
    function after(step) {
        const next = new URL(location.href);
        next.searchParams.delete("step");
        next.searchParams.set("after", step || document.querySelector("[data-step]")?.dataset.step || "");
        return next.href;
    }

    // ---- the heartbeat -------------------------------------------------------------------------------------------

    let lostAt = null;
    let newer = false;

    function connected(yes) {
        if (yes) lostAt = null;
        else lostAt ??= new Date();
    }

    async function beat() {
        try {
            const { status, body } = await ask(
                `/floor/heartbeat?proveOut=${encodeURIComponent(page.proveOut)}`,
                {},
                beatPatience,
            );
            if (status !== 200 || body.app !== "handwheel") throw new TypeError("not our server");
            const wasLost = lostAt !== null;
            connected(true);
            signedOut = me.id !== "" && body.person !== me.id;
            newer = root.dataset.version !== undefined && body.version !== root.dataset.version;
            if (wasLost) {
                giveUp.abort(again);
                giveUp = new AbortController();
                tries = 0;
                flush();
            }
            if ("kept" in root.dataset) window.handwheelKept?.backAgain(dirty() || (await waits()));
            else if (page.proveOut && body.number > page.number) changedElsewhere(body.last);
        } catch {
            connected(false);
        }
        await show();
    }

    function changedElsewhere(last) {
        const box = document.getElementById("changed");
        if (!box || busy.act || busy.photo) return;
        box.querySelector("[data-what]").textContent = last || "";
        box.hidden = false;
    }

    // ---- what the page shows -------------------------------------------------------------------------------------

    const actions = {
        async out(row) {
            await queue.forget(row.key);
            if (row.kind === "photo") await show();
            else location.reload();
        },
        async again({ refused, refusedAt, stuck, failed, ...row }) {
            await queue.keep(row);
            await flush();
        },
    };

    async function show() {
        const rows = await queue.everything();
        holdForms(told.show({ me, rows, lostAt, signedOut, newer }, actions));
        window.handwheelKept?.show(rows.filter((row) => row.person === me.id), lostAt);
    }

    // A note or a photo beside a step is not an answer to it.
    const isOfStep = (act) => !["note", "photo-added"].includes(act.kind);

    // A form whose entry still waits cannot be sent a second time with other contents.
    function holdForms(waiting) {
        for (const form of document.querySelectorAll("form[data-queue]")) {
            const step = isOfStep(JSON.parse(form.elements.act.value)) && stepOf(form);
            const isHeld = (row) => row.key === form.elements.key.value || (step && row.step === step && isOfStep(row.act));
            const held = "done" in form.dataset || queue.isOlder() || waiting.some(isHeld);
            for (const button of form.querySelectorAll("button")) button.disabled = held;
        }
    }

    // ---- forms ---------------------------------------------------------------------------------------------------

    function entryOf(form, submitter, kind = "act") {
        return {
            // A page that was kept can be older than the server's answer to its own form: each press is an entry of its own.
            key: "kept" in root.dataset ? queue.newKey() : form.elements.key.value,
            kind,
            order: Date.now(),
            url: form.dataset.api,
            proveOut: page.proveOut,
            person: me.id,
            personName: me.name,
            basedOn: Number(form.elements.basedOn.value),
            act: actOf(form, submitter),
            step: stepOf(form),
            says: form.dataset.says || said`entry`,
            madeAt: new Date().toISOString(),
            offline: lostAt !== null,
        };
    }

    async function queued(form, submitter) {
        const entry = entryOf(form, submitter);
        await queue.ready;
        if (queue.isOlder()) return told.beside(form, said`Nothing was recorded.`, queue.trouble());
        if (!queue.canKeep()) return direct(form, submitter);
        try {
            await queue.keep(entry);
        } catch {
            return direct(form, submitter);
        }
        form.dataset.sent = "yes";
        window.handwheelDrafts.forget(form);
        setTimeout(show, 400);
        await flush();
    }

    // Signing: the PIN is sent once and kept nowhere. So goes every form on a tablet that can keep nothing.
    async function direct(form, submitter) {
        const signs = form.elements.pin !== undefined;
        const buttons = [...form.querySelectorAll("button")];
        for (const button of buttons) button.disabled = true;
        told.beside(form, said`Asking the server …`);
        try {
            const { status, body } = await send(entryOf(form, submitter), { pin: form.elements.pin?.value });
            if (status === 200) {
                window.handwheelDrafts.forget(form);
                await forgetSeen(Date.now());
                location.assign(form.dataset.then || after(stepOf(form)));
                return;
            }
            told.beside(form, ...reasonsOf(body));
        } catch {
            connected(false);
            told.beside(
                form,
                signs
                    ? said`No answer from the server: take this as not signed. Sign again when the connection is back; if it did arrive, it counts once.`
                    : said`NOT SAVED: no answer from the server, and this tablet keeps nothing. Press again when the connection is back; if it did arrive, it counts once.`,
            );
        }
        if (signs) form.elements.pin.value = "";
        for (const button of buttons) button.disabled = false;
        await show();
    }

    document.addEventListener("submit", (event) => {
        const form = event.target;
        if (!("queue" in form.dataset) && !("direct" in form.dataset)) return;
        event.preventDefault();
        if ("queue" in form.dataset) queued(form, event.submitter);
        else direct(form, event.submitter);
    });

    const dirty = () =>
        [...document.querySelectorAll("form:not([data-sent]) :is(input, textarea)")].some(
            (field) => !/^(hidden|radio|checkbox)$/.test(field.type) && field.value !== field.defaultValue,
        );

    // ---- start ---------------------------------------------------------------------------------------------------

    addEventListener("handwheel-queue", () => show());
    addEventListener("online", () => flush());
    addEventListener("focus", () => flush());
    document.addEventListener("visibilitychange", () => {
        if (document.hidden) return;
        beat();
        flush();
    });
    document.getElementById("changed-show")?.addEventListener("click", () => location.reload());
    navigator.storage?.persist?.();

    window.handwheelTablet = { page, flush, show, sendPhoto, entryOf, reasonsOf, isOfStep, isLost: () => lostAt !== null };

    queue.ready.then(async () => {
        await show();
        await flush();
        await beat();
        setInterval(beat, beatEvery);
    });
})();
