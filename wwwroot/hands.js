// Wet gloves: the page's own keypad, a slide that is not a press, and a hold for what cannot be undone.
(() => {
    "use strict";

    const said = window.handwheelSaid;
    for (const input of document.querySelectorAll("input[data-keypad]")) input.inputMode = "none";

    function press(key, input) {
        if (key === "back") input.value = input.value.slice(0, -1);
        else if (key === "clear") input.value = "";
        else if (key === "sign") input.value = input.value.startsWith("-") ? input.value.slice(1) : `-${input.value}`;
        else if (!input.maxLength || input.maxLength < 0 || input.value.length < input.maxLength) input.value += key;
        input.dispatchEvent(new Event("input", { bubbles: true }));
    }

    // Sideways only: the page itself stays at its top, where the keys are.
    for (const here of document.querySelectorAll("nav [aria-current]")) {
        const row = here.closest("ol, ul");
        if (row) row.scrollLeft = here.offsetLeft - row.offsetLeft - (row.clientWidth - here.offsetWidth) / 2;
    }

    // Where the page is one narrow column, what came of the last entry stands above the keys, without the lists before it.
    document.querySelector("[data-focus]")?.focus({ preventScroll: true });
    const step = document.querySelector("article .say h1");
    const worked = document.querySelector("article .say > .refusal") || new URL(location.href).searchParams.has("after");
    // What is to be looked at again comes before what came of an entry.
    const look = document.querySelector("[data-looked-at][open]");
    if (step && worked && !look && matchMedia("(max-width: 900px)").matches) step.scrollIntoView({ block: "start" });

    // A finger that slid is a scroll, not a press.
    let down = null;
    document.addEventListener("pointerdown", (event) => (down = { x: event.clientX, y: event.clientY }), true);
    document.addEventListener(
        "click",
        (event) => {
            const slid = down && event.detail > 0 && Math.hypot(event.clientX - down.x, event.clientY - down.y) > 10;
            if (slid && event.target.closest("button, label")) {
                event.preventDefault();
                event.stopPropagation();
                return;
            }
            const fill = event.target.closest("[data-fill]");
            if (fill) {
                const field = document.getElementById(fill.dataset.for);
                field.value = fill.dataset.fill;
                field.dispatchEvent(new Event("input", { bubbles: true }));
            }
            const key = event.target.closest("[data-key]");
            if (key) press(key.dataset.key, document.getElementById(key.closest(".keypad").dataset.for));
        },
        true,
    );

    // What cannot be undone is held for 0.8 s; from a keyboard it is pressed twice.
    function holdToConfirm(button) {
        const words = button.querySelector("[data-hold-words]");
        let timer = 0;
        let armed = false;
        const stop = () => {
            clearTimeout(timer);
            button.classList.remove("holding");
        };
        button.addEventListener("pointerdown", () => {
            button.classList.add("holding");
            timer = setTimeout(() => {
                stop();
                button.form.requestSubmit(button);
            }, 800);
        });
        for (const name of ["pointerup", "pointerleave", "pointercancel"]) button.addEventListener(name, stop);
        button.addEventListener("click", (event) => {
            event.preventDefault();
            if (event.detail > 0) return;
            if (armed) {
                button.form.requestSubmit(button);
                return;
            }
            armed = true;
            const before = words.textContent;
            words.textContent = said`Press again within 5 seconds to confirm`;
            setTimeout(() => {
                armed = false;
                words.textContent = before;
            }, 5000);
        });
    }

    for (const button of document.querySelectorAll("[data-hold]")) holdToConfirm(button);
})();
