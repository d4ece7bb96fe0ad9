// The durable queue of a tablet: entries and photos stay here until the server has them, over a reload, a closed browser and an
// empty battery. No PIN and no session is kept: signing goes straight to the server or not at all.
(() => {
    "use strict";

    const said = window.handwheelSaid;
    // A row: { key, order, kind: "act" or "photo", url, proveOut, person, personName, basedOn, act, step, says, madeAt, offline,
    // refused, refusedAt, stuck, failed }. Rows of version 1 have no kind and are acts. A photo's bytes: { key, bytes, type }.
    // A page of an older version cannot open a newer database: it says so and takes nothing.
    const name = "handwheel-floor";
    const version = 2;
    const notesName = "handwheel-waiting";

    let store = null;
    let trouble = "";

    const words = {
        none: said`THIS TABLET KEEPS NOTHING: what is pressed here is either saved on the server at once or not at all. Wait for “saved” before you walk away.`,
        full: said`THIS TABLET HAS NO ROOM LEFT to keep entries: what is pressed here is either saved on the server at once or not at all. Wait for “saved” before you walk away.`,
        cleared: said`The browser of this tablet cleared what it kept before this was known to be saved. Look whether the step is done, and enter it again if it is not.`,
        older: said`A NEWER VERSION OF THIS PAGE is open on this tablet. Load this page again before anything is entered here.`,
    };

    function upgrade(database) {
        for (const [at, keyPath] of [["queue", "key"], ["photos", "key"]])
            if (!database.objectStoreNames.contains(at)) database.createObjectStore(at, { keyPath });
    }

    function inStores(mode, work) {
        return new Promise((resolve, reject) => {
            if (!store) throw new Error("nothing can be kept here");
            const transaction = store.transaction(["queue", "photos"], mode, { durability: "strict" });
            const request = work(transaction.objectStore("queue"), transaction.objectStore("photos"));
            transaction.oncomplete = () => resolve(request?.result);
            transaction.onerror = transaction.onabort = () => reject(transaction.error);
        });
    }

    function opened(database) {
        store = database;
        store.onversionchange = ({ newVersion }) => {
            store.close();
            if (newVersion === null) cleared();
            else lost("older");
        };
        store.onclose = cleared;
    }

    // Deleted under this page's hands: begun anew, with a word for everything that was in it.
    async function cleared() {
        store = null;
        ready = begin();
        await ready;
        dispatchEvent(new Event("handwheel-queue"));
    }

    function lost(why) {
        store = null;
        trouble = words[why];
        dispatchEvent(new Event("handwheel-queue"));
    }

    function open() {
        return new Promise((resolve) => {
            let opening;
            try {
                opening = indexedDB.open(name, version);
            } catch {
                resolve();
                return;
            }
            opening.onupgradeneeded = () => upgrade(opening.result);
            opening.onsuccess = () => {
                opened(opening.result);
                resolve();
            };
            opening.onerror = () => {
                if (opening.error?.name === "VersionError") trouble = words.older;
                resolve();
            };
        });
    }

    // Whether something can be kept is known before the first tick, not after it.
    async function tryToKeep() {
        if (!store) return;
        try {
            await inStores("readwrite", (queue) => {
                queue.put({ key: "try" });
                return queue.delete("try");
            });
        } catch {
            store.close();
            store = null;
            trouble = words.full;
        }
    }

    // What waits is noted outside of the database too, since a browser that needs room clears the database and leaves the note. A note goes
    // before its row and comes after it, so that only a row that was cleared leaves one behind.
    function noted(change) {
        try {
            const notes = JSON.parse(localStorage.getItem(notesName)) || {};
            if (!change) return notes;
            change(notes);
            localStorage.setItem(notesName, JSON.stringify(notes));
        } catch {
            // no notes here: the database alone
        }
        return {};
    }

    const note = ({ key, kind, order, proveOut, person, personName, step, says, madeAt }) =>
        noted((notes) => (notes[key] = { key, kind, order, proveOut, person, personName, step, says, madeAt }));

    async function tellCleared() {
        if (!store) return;
        const keys = new Set(await inStores("readonly", (queue) => queue.getAllKeys()));
        for (const row of Object.values(noted()).filter((row) => !keys.has(row.key)))
            await keep({ ...row, act: { kind: "note" }, refused: [words.cleared], refusedAt: Date.now() });
    }

    async function keep(row, photo) {
        await inStores("readwrite", (queue, photos) => {
            if (photo) photos.put({ key: row.key, ...photo });
            return queue.put(row);
        });
        note(row);
    }

    function forget(key) {
        noted((notes) => delete notes[key]);
        return inStores("readwrite", (queue, photos) => {
            photos.delete(key);
            return queue.delete(key);
        });
    }

    async function begin() {
        await open();
        await tryToKeep();
        if (!store && !trouble) trouble = words.none;
        await tellCleared().catch(() => {});
    }

    let ready = begin();

    async function everything() {
        await ready;
        if (!store) return [];
        const rows = await inStores("readonly", (queue) => queue.getAll());
        return rows.sort((a, b) => a.order - b.order);
    }

    // A random version 4 UUID (RFC 9562); crypto.randomUUID is missing on plain HTTP.
    function newKey() {
        const bytes = crypto.getRandomValues(new Uint8Array(16));
        bytes[6] = (bytes[6] & 0x0f) | 0x40;
        bytes[8] = (bytes[8] & 0x3f) | 0x80;
        const hex = [...bytes].map((b) => b.toString(16).padStart(2, "0")).join("");
        return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
    }

    window.handwheelQueue = {
        get ready() {
            return ready;
        },
        canKeep: () => store !== null,
        isOlder: () => trouble === words.older,
        trouble: () => trouble,
        everything,
        keep,
        forget,
        photo: (key) => inStores("readonly", (queue, photos) => photos.get(key)),
        newKey,
    };
})();
