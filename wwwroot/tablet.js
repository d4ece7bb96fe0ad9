// The tablet's side of a page at the machine: entries wait in a durable queue until the server has them, and the
// banner says which of three things is so: not saved, saved, refused. Without this script every form still posts.
(() => {
    "use strict";

    const root = document.documentElement;
    const me = { id: root.dataset.person || "", name: root.dataset.personName || "" };
    const page = { proveOut: root.dataset.proveOut || "", number: Number(root.dataset.number || "0") };
    const beatEvery = 2000;
    const beatPatience = 1500;
    const postPatience = 8000;
    const pauses = [1000, 2000, 4000, 8000, 15000];

    root.classList.add("scripted");

    // ---- the queue -----------------------------------------------------------------------------------------------
    // One row per entry: { key, order, url, person, personName, basedOn, act, step, says, madeAt, refused, refusedAt }. No PIN,
    // no session: signing goes straight to the server or not at all.

    let store = null;
    const ready = new Promise((resolve) => {
        let opening;
        try {
            opening = indexedDB.open("handwheel-floor", 1);
        } catch {
            resolve();
            return;
        }
        opening.onupgradeneeded = () => opening.result.createObjectStore("queue", { keyPath: "key" });
        opening.onsuccess = () => {
            store = opening.result;
            store.onversionchange = () => store.close();
            resolve();
        };
        opening.onerror = () => resolve();
        opening.onblocked = () => resolve();
    });

    function inQueue(mode, work) {
        return new Promise((resolve, reject) => {
            const transaction = store.transaction("queue", mode, { durability: "strict" });
            const request = work(transaction.objectStore("queue"));
            transaction.oncomplete = () => resolve(request.result);
            transaction.onerror = transaction.onabort = () => reject(transaction.error);
        });
    }

    const keep = (entry) => inQueue("readwrite", (queue) => queue.put(entry));
    const forget = (key) => inQueue("readwrite", (queue) => queue.delete(key));

    // A refusal was read by whoever has done something since that was accepted.
    async function forgetSeen(doneAt) {
        for (const row of await everything())
            if (row.refused && row.person === me.id && (row.refusedAt || 0) < doneAt) await forget(row.key);
    }

    async function everything() {
        if (!store) return [];
        const rows = await inQueue("readonly", (queue) => queue.getAll());
        return rows.sort((a, b) => a.order - b.order);
    }

    // ---- talking to the server -----------------------------------------------------------------------------------

    // A captive portal or a proxy also answers 200; only our own JSON counts as an answer.
    async function ask(url, options, patience) {
        const answer = await fetch(url, {
            cache: "no-store",
            credentials: "same-origin",
            redirect: "manual",
            signal: AbortSignal.timeout(patience),
            ...options,
        });
        const kind = answer.headers.get("Content-Type") || "";
        if (!/^application\/(problem\+)?json/.test(kind)) throw new TypeError("no answer from the server");
        return { status: answer.status, body: await answer.json() };
    }

    function send(entry, pin) {
        const body = { basedOn: entry.basedOn, act: entry.act };
        if (pin !== undefined) body.pin = pin;
        return ask(
            entry.url,
            {
                method: "POST",
                headers: { "Content-Type": "application/json", "Idempotency-Key": entry.key },
                body: JSON.stringify(body),
            },
            postPatience,
        );
    }

    function reasonsOf(body) {
        if (Array.isArray(body.reasons) && body.reasons.length > 0) return body.reasons;
        return [body.detail || body.title || "The server did not take it and gave no reason."];
    }

    let sending = false;
    let tries = 0;
    let retry = 0;
    let signedOut = false;

    async function flush() {
        if (sending || !me.id) return;
        sending = true;
        clearTimeout(retry);
        let last = null;
        try {
            for (const entry of await everything()) {
                if (entry.person !== me.id || entry.refused) continue;
                const { status, body } = await send(entry);
                if (status === 200) {
                    await forget(entry.key);
                    await forgetSeen(entry.order);
                    last = { entry, body };
                    tries = 0;
                } else if (status === 401) {
                    signedOut = true;
                    break;
                } else if (status >= 500 || status === 429 || /StillRunning$/.test(body.type || "")) {
                    throw new TypeError("the server cannot take it now");
                } else {
                    await keep({ ...entry, refused: reasonsOf(body), refusedAt: Date.now() });
                }
            }
            connected(true);
        } catch {
            if (!last) connected(false);
            retry = setTimeout(flush, pauses[Math.min(tries++, pauses.length - 1)]);
        } finally {
            sending = false;
        }
        await show();
        if (last) moveOn(last.entry);
    }

    function moveOn(entry) {
        if (entry.proveOut !== page.proveOut || dirty()) return;
        location.replace(after(entry.step));
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
            if (page.proveOut && body.number > page.number) changedElsewhere(body.last);
            if (wasLost) flush();
        } catch {
            connected(false);
        }
        await show();
    }

    function changedElsewhere(last) {
        const box = document.getElementById("changed");
        if (!box || sending) return;
        box.querySelector("[data-what]").textContent = last || "";
        box.hidden = false;
    }

    // ---- what the banner says ------------------------------------------------------------------------------------

    const marks = {
        saved: "M5 19 L14 28 L31 8",
        waiting: "M18 4 A14 14 0 1 1 17.9 4 M18 9 V19 L25 23",
        refused: "M7 7 L29 29 M29 7 L7 29",
    };

    function say(state, text) {
        const box = document.getElementById("saved");
        if (!box) return;
        const words = box.querySelector("[data-words]");
        if (box.dataset.state !== state) {
            box.dataset.state = state;
            box.querySelector("path").setAttribute("d", marks[state]);
        }
        if (words.textContent !== text) words.textContent = text;
    }

    const clock = (when) => when.toLocaleTimeString([], { hour: "2-digit", minute: "2-digit", hour12: false });

    async function show() {
        const rows = await everything();
        const mine = rows.filter((entry) => entry.person === me.id);
        const refused = mine.filter((entry) => entry.refused);
        const waiting = mine.filter((entry) => !entry.refused);
        const others = rows.filter((entry) => entry.person !== me.id);
        showRefused(refused);
        holdForms(waiting);

        const lines = [];
        if (refused.length > 0) lines.push(`REFUSED: ${refused.map((entry) => entry.says).join("; ")}.`);
        if (waiting.length > 0)
            lines.push(`NOT SAVED: ${waiting.map((entry) => entry.says).join("; ")}. Kept on this tablet, being sent.`);
        if (document.querySelector("form[data-unsaved]")) lines.push("NOT SAVED: the file chosen on this page.");
        if (lostAt) lines.push(`NO CONNECTION to the server since ${clock(lostAt)}. Entries wait here; signing needs the server.`);
        if (signedOut) lines.push(`SIGNED OUT on the server. Sign in as ${me.name} to save what is entered here.`);
        for (const name of new Set(others.map((entry) => entry.personName))) {
            const count = others.filter((entry) => entry.personName === name).length;
            lines.push(`NOT SAVED: ${count} by ${name}, who must sign in on this tablet to save them.`);
        }
        if (!store) lines.push("This browser keeps nothing when it is closed: wait for “saved” before you walk away.");

        if (refused.length > 0) say("refused", lines.join(" "));
        else if (lines.length > 0) say("waiting", lines.join(" "));
        else say("saved", "Saved: everything entered here is on the server.");
    }

    function showRefused(refused) {
        const box = document.getElementById("refused");
        if (!box) return;
        box.hidden = refused.length === 0;
        const told = refused.map((entry) => entry.key).join();
        if (box.dataset.told === told) return;
        box.dataset.told = told;
        box.replaceChildren(
            ...refused.map((entry) => {
                const item = document.createElement("div");
                item.className = "refusal";
                const head = document.createElement("h2");
                head.textContent = `Refused, nothing was recorded: ${entry.says}, typed ${clock(new Date(entry.madeAt))}`;
                const why = document.createElement("ul");
                why.append(
                    ...entry.refused.map((reason) => {
                        const line = document.createElement("li");
                        line.textContent = reason;
                        return line;
                    }),
                );
                const seen = document.createElement("button");
                seen.type = "button";
                seen.className = "act";
                seen.textContent = "Seen, show the step as it is now";
                seen.addEventListener("click", async () => {
                    await forget(entry.key);
                    location.reload();
                });
                item.append(head, why, seen);
                return item;
            }),
        );
        if (refused.length > 0) box.scrollIntoView({ block: "nearest" });
    }

    // A form whose entry still waits cannot be sent a second time with other contents.
    function holdForms(waiting) {
        for (const form of document.querySelectorAll("form[data-queue]")) {
            const step = stepOf(form);
            const held = waiting.find((entry) => entry.key === form.elements.key.value || (step && entry.step === step));
            for (const button of form.querySelectorAll("button")) button.disabled = Boolean(held);
        }
    }

    // ---- forms ---------------------------------------------------------------------------------------------------

    const { actOf, stepOf } = window.handwheelForms;

    function entryOf(form, submitter) {
        return {
            key: form.elements.key.value,
            order: Date.now(),
            url: form.dataset.api,
            proveOut: page.proveOut,
            person: me.id,
            personName: me.name,
            basedOn: Number(form.elements.basedOn.value),
            act: actOf(form, submitter),
            step: stepOf(form),
            says: form.dataset.says || "entry",
            madeAt: new Date().toISOString(),
        };
    }

    async function queued(form, submitter) {
        const entry = entryOf(form, submitter);
        form.dataset.sent = "yes";
        await ready;
        if (!store) return direct(form, submitter);
        await keep(entry);
        setTimeout(show, 400);
        await flush();
    }

    // Signing: the PIN is sent once and kept nowhere.
    async function direct(form, submitter) {
        const note = form.querySelector("[data-answer]");
        const tell = (...lines) => {
            if (!note) return;
            note.hidden = false;
            note.replaceChildren(
                ...lines.map((line) => {
                    const p = document.createElement("p");
                    p.textContent = line;
                    return p;
                }),
            );
            note.scrollIntoView({ block: "nearest" });
        };
        const buttons = [...form.querySelectorAll("button")];
        for (const button of buttons) button.disabled = true;
        tell("Asking the server …");
        try {
            const { status, body } = await send(entryOf(form, submitter), form.elements.pin?.value);
            if (status === 200) {
                await forgetSeen(Date.now());
                location.assign(form.dataset.then || after(stepOf(form)));
                return;
            }
            tell(...reasonsOf(body));
        } catch {
            connected(false);
            tell("No answer from the server: take this as not signed. Sign again when the connection is back; if it did arrive, it counts once.");
        }
        if (form.elements.pin) form.elements.pin.value = "";
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

    // ---- nobody there --------------------------------------------------------------------------------------------

    // A tablet that nobody touches signs its person out, so that the next tick is not made under another's name. What is
    // not saved yet stays in the queue. Without the server nobody could sign in again, so then it waits.
    const idleAfter = 10 * 60 * 1000;
    let touchedAt = Date.now();
    for (const name of ["pointerdown", "keydown"]) addEventListener(name, () => (touchedAt = Date.now()), true);

    function lockWhenIdle() {
        const notMe = document.querySelector(".not-me");
        if (notMe && !lostAt && Date.now() - touchedAt > idleAfter) notMe.form.requestSubmit();
    }

    // ---- start ---------------------------------------------------------------------------------------------------

    let leftAt = null;
    document.addEventListener("visibilitychange", () => {
        if (document.hidden) {
            leftAt = Date.now();
            return;
        }
        const away = document.getElementById("away");
        if (away && leftAt && Date.now() - leftAt > 60000) away.hidden = false;
        beat();
        flush();
    });
    addEventListener("online", () => flush());
    addEventListener("focus", () => flush());
    document.getElementById("changed-show")?.addEventListener("click", () => location.reload());
    document.getElementById("away-seen")?.addEventListener("click", () => location.reload());
    navigator.storage?.persist?.();

    ready.then(async () => {
        await show();
        await flush();
        await beat();
        setInterval(beat, beatEvery);
        setInterval(lockWhenIdle, 10000);
    });
})();
