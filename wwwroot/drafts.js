// What is half typed survives a reload: kept on every key, for one person and one step, and gone when it was sent. A PIN, a password and a
// file are never kept.
(() => {
    "use strict";

    const root = document.documentElement;
    const prefix = "handwheel-draft ";
    const keptFor = 7 * 24 * 60 * 60 * 1000;

    // Local storage is written before the next line runs; where there is none, nothing is kept and nothing fails.
    function storage(work) {
        try {
            return work(localStorage);
        } catch {
            return null;
        }
    }

    const canBeKept = (field) =>
        field.name?.startsWith("act.") && !/^(hidden|radio|checkbox|file|password)$/.test(field.type) && field.name !== "pin";

    function placeOf(field) {
        const form = field.form;
        if (!form || !root.dataset.person || !root.dataset.proveOut || !("act" in form.elements)) return null;
        const act = JSON.parse(form.elements.act.value);
        const step = act.step || document.querySelector("[data-step]")?.dataset.step || "";
        return [prefix + root.dataset.person, root.dataset.proveOut, step, act.kind, field.name].join(" ");
    }

    document.addEventListener("input", (event) => {
        const place = canBeKept(event.target) && placeOf(event.target);
        if (!place) return;
        storage((kept) =>
            event.target.value === event.target.defaultValue
                ? kept.removeItem(place)
                : kept.setItem(place, JSON.stringify({ value: event.target.value, at: Date.now() })),
        );
    });

    function restore(within = document) {
        for (const field of within.querySelectorAll("form[data-api] :is(input, textarea, select)")) {
            const place = canBeKept(field) && placeOf(field);
            const kept = place && storage((all) => JSON.parse(all.getItem(place)));
            if (!kept) continue;
            field.value = kept.value;
            for (let folded = field.closest("details"); folded; folded = folded.parentElement.closest("details")) folded.open = true;
        }
    }

    function forget(form) {
        for (const field of form.elements) {
            const place = canBeKept(field) && placeOf(field);
            if (place) storage((kept) => kept.removeItem(place));
        }
    }

    storage((kept) => {
        for (const place of Object.keys(kept).filter((key) => key.startsWith(prefix)))
            if (Date.now() - JSON.parse(kept.getItem(place)).at > keptFor) kept.removeItem(place);
    });
    restore();

    window.handwheelDrafts = { restore, forget };
})();
