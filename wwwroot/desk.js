// Desk pages: what a page can still do when its connection to the server is gone, and no press that goes lost without a word.
(() => {
    "use strict";

    const patience = 2000;
    const alivePatience = 3000;
    const late = new Set();

    const two = number => String(number).padStart(2, "0");
    const clock = at => `${two(at.getHours())}:${two(at.getMinutes())}:${two(at.getSeconds())}`;

    function show() {
        const notice = document.getElementById("not-heard");
        const [first] = late;
        notice.hidden = first === undefined;
        if (first)
            notice.querySelector("[data-since]").textContent = clock(first.at);
    }

    // The server answers in the order in which it was asked: who has this answer has sent everything before it.
    function ask(press) {
        const told = heard => () => {
            clearTimeout(press.timer);
            if (heard)
                late.delete(press);
            else
                late.add(press);
            show();
        };
        press.timer = setTimeout(told(false), patience);
        DotNet.invokeMethodAsync("handwheel", "Heard").then(told(true), told(false));
    }

    for (const kind of ["click", "change"])
        document.addEventListener(kind, event => {
            // A page that is not alive yet takes nothing, and shows it.
            if (event.target.closest("main") && document.querySelector("fieldset.page:enabled"))
                setTimeout(() => ask({ at: new Date() }));
        });

    let aliveAt = Date.now();
    setInterval(() => {
        if (!document.querySelector("fieldset.page:disabled"))
            aliveAt = Date.now();
        document.getElementById("not-alive").hidden = Date.now() - aliveAt < alivePatience;
    }, 500);

    document.addEventListener("click", event => {
        if (event.target.closest("[data-load-again]"))
            location.reload();
    });
})();
