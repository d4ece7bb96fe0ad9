// What a form of a page at the machine says: the act that its fields make, and in our own words what is still missing.
(() => {
    "use strict";

    const said = window.handwheelSaid;
    // Fields named "act.x.y" fill the act; ":number" and ":flag" say what the text stands for, ":more" adds it as a line.
    function valueOf(text, kind, known) {
        if (kind === "more") return [known, text.trim()].filter(Boolean).join("\n");
        return kind === "number" ? Number(text) : kind === "flag" ? text === "true" : text;
    }

    function actOf(form, submitter) {
        const act = JSON.parse(form.elements.act.value);
        for (const [name, value] of new FormData(form, submitter)) {
            if (!name.startsWith("act.")) continue;
            const [path, kind] = name.slice(4).split(":");
            const steps = path.split(".");
            let at = act;
            for (const [i, part] of steps.slice(0, -1).entries()) at = at[part] ??= /^\d+$/.test(steps[i + 1]) ? [] : {};
            at[steps.at(-1)] = valueOf(value, kind, at[steps.at(-1)]);
        }
        return act;
    }

    const stepOf = (form) => JSON.parse(form.elements.act.value).step || "";

    function missing(field) {
        const { valueMissing, patternMismatch } = field.validity;
        if (valueMissing && field.dataset.blank) return field.dataset.blank;
        if (field.name === "pin") return said`The PIN is six digits.`;
        if (valueMissing && field.classList.contains("typed")) return said`Nothing is typed yet: type what is asked for here.`;
        if (valueMissing && field.type === "radio") return said`Choose one of these.`;
        if (valueMissing) return said`This is still blank.`;
        if (patternMismatch && field.inputMode === "numeric") return said`Digits only, for example 120.`;
        return field.validationMessage;
    }

    // Said beside the field, where a glove cannot wipe it away; the first one that is missing comes into view.
    document.addEventListener(
        "invalid",
        (event) => {
            event.preventDefault();
            const field = event.target;
            const place = field.closest(".box, .choices") || field;
            let note = place.nextElementSibling;
            if (!note?.matches("[data-missing]")) {
                note = document.createElement("p");
                note.dataset.missing = "";
                note.setAttribute("role", "alert");
                place.after(note);
                field.form.addEventListener("input", () => field.validity.valid && note.remove());
            }
            note.textContent = missing(field);
            if (field.form.querySelector(":is(input, select, textarea):invalid") !== field) return;
            field.focus({ preventScroll: true });
            place.scrollIntoView({ block: "center" });
        },
        true,
    );

    window.handwheelForms = { actOf, stepOf };
})();
