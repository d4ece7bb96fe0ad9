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

    let store = null;
    let trouble = "";

    const words = {
        none: said`THIS TABLET KEEPS NOTHING: what is pressed here is either saved on the server at once or not at all. Wait for “saved” before you walk away.`,
        full: said`THIS TABLET HAS NO ROOM LEFT to keep entries: what is pressed here is either saved on the server at once or not at all. Wait for “saved” before you walk away.`,
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
        store.onversionchange = () => {
            store.close();
            lost("older");
        };
        store.onclose = () => lost("none");
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

    const ready = open().then(tryToKeep).then(() => {
        if (!store && !trouble) trouble = words.none;
    });

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
        ready,
        canKeep: () => store !== null,
        isOlder: () => trouble === words.older,
        trouble: () => trouble,
        everything,
        keep: (row, photo) =>
            inStores("readwrite", (queue, photos) => {
                if (photo) photos.put({ key: row.key, ...photo });
                return queue.put(row);
            }),
        forget: (key) =>
            inStores("readwrite", (queue, photos) => {
                photos.delete(key);
                return queue.delete(key);
            }),
        photo: (key) => inStores("readonly", (queue, photos) => photos.get(key)),
        newKey,
    };
})();
