// A file or a photo goes to the server at once or not at all: without an answer the page stays, with its banner and what was chosen.
(() => {
    "use strict";

    const said = window.handwheelSaid;
    const patience = 120000;

    // A captive portal or a proxy answers as well; only a page of ours counts as an answer.
    async function answerTo(form) {
        const answer = await fetch(form.action, {
            method: "POST",
            body: new FormData(form),
            cache: "no-store",
            credentials: "same-origin",
            signal: AbortSignal.timeout(patience),
        });
        const page = new DOMParser().parseFromString(await answer.text(), "text/html");
        if (new URL(answer.url).origin !== location.origin || !("number" in page.documentElement.dataset))
            throw new TypeError("no answer from the server");
        return { url: answer.redirected ? answer.url : null, refused: [...page.querySelectorAll("main > .refusal li")] };
    }

    function tell(form, ...lines) {
        const box = form.querySelector("[data-answer]");
        box.hidden = false;
        box.replaceChildren(
            ...lines.map((line) => {
                const p = document.createElement("p");
                p.textContent = line;
                return p;
            }),
        );
        box.scrollIntoView({ block: "nearest" });
    }

    async function send(form) {
        const buttons = [...form.querySelectorAll("button")];
        for (const button of buttons) button.disabled = true;
        tell(form, said`Sending it to the server …`);
        try {
            const { url, refused } = await answerTo(form);
            delete form.dataset.unsaved;
            if (url) return location.assign(url);
            tell(form, said`Refused, nothing was recorded.`, ...refused.map((reason) => reason.textContent.trim()));
        } catch {
            form.dataset.unsaved = ""; // the banner says so too
            tell(
                form,
                said`NOT SAVED: no answer from the server. What was chosen stays on this page only: press again when the connection is back. If it did arrive, it counts once.`,
            );
        }
        for (const button of buttons) button.disabled = false;
    }

    document.addEventListener("submit", (event) => {
        if (!("file" in event.target.dataset)) return;
        event.preventDefault();
        send(event.target);
    });
})();
