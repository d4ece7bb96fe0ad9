// Nobody there, or somebody back: a tablet that nobody touches signs its person out, and who comes back is told what was done last.
(() => {
    "use strict";

    const said = window.handwheelSaid;
    const idleAfter = 10 * 60 * 1000;
    const lookAgainAfter = 60 * 1000;
    const box = document.getElementById("away");
    let touchedAt = Date.now();
    let leftAt = null;

    function rest(yes) {
        for (const part of document.querySelectorAll("main > :not(#away):not(#refused)")) part.inert = yes;
    }

    // Until it was read, a finger that wakes the tablet presses nothing else.
    function welcome() {
        if (!box || !box.hidden) return;
        const minutes = Math.round((Date.now() - Math.min(touchedAt, leftAt ?? touchedAt)) / 60000);
        box.querySelector("[data-how-long]").textContent = minutes < 1 ? "" : said`for ${window.handwheelTold.age(Date.now() - minutes * 60000)}`;
        box.hidden = false;
        rest(true);
        box.scrollIntoView({ block: "start" });
    }

    // What is not saved yet stays in the queue. Without the server nobody could sign in again, so then the page only asks who it is.
    function whenIdle() {
        if (Date.now() - touchedAt <= idleAfter) return;
        const notMe = document.querySelector("form:not([hidden]) > .not-me");
        if (!notMe) return;
        if (window.handwheelTablet.isLost()) return welcome();
        rest(true);
        notMe.form.requestSubmit();
    }

    for (const name of ["pointerdown", "keydown"])
        addEventListener(
            name,
            () => {
                whenIdle(); // a tablet that slept wakes with a touch, before its timers run
                touchedAt = Date.now();
            },
            true,
        );
    document.addEventListener("visibilitychange", () => {
        if (document.hidden) leftAt = Date.now();
        else if (leftAt && Date.now() - leftAt > lookAgainAfter) welcome();
    });
    document.getElementById("away-seen")?.addEventListener("click", () => {
        if (!window.handwheelTablet.isLost()) return location.reload();
        box.hidden = true;
        rest(false);
    });
    setInterval(whenIdle, 10000);

    // What is to be looked at again folds away once somebody said that they did, until the next entry.
    const looked = document.querySelector("[data-looked-at]");
    const lookedName = `handwheel-looked ${document.documentElement.dataset.person} ${document.documentElement.dataset.proveOut}`;
    function remembered(number) {
        try {
            if (number) sessionStorage.setItem(lookedName, number);
            return sessionStorage.getItem(lookedName);
        } catch {
            return null;
        }
    }
    if (looked) looked.open = remembered() !== looked.dataset.lookedAt;
    looked?.querySelector("[data-looked]").addEventListener("click", () => {
        remembered(looked.dataset.lookedAt);
        looked.open = false;
    });
})();
