// Who is at this tablet: the person of the page; on the page that belongs to nobody, whoever was signed in when the server last answered.
(() => {
    "use strict";

    const root = document.documentElement;
    const hereName = "handwheel-here";
    const leftName = "handwheel-left";
    const live = !("kept" in root.dataset);
    const without = "without" in root.dataset;

    function storage(work) {
        try {
            return work(localStorage);
        } catch {
            return null;
        }
    }

    const left = () => storage((kept) => kept.getItem(leftName));
    const forget = (name) => storage((kept) => kept.removeItem(name));

    function whoWas() {
        const was = storage((kept) => JSON.parse(kept.getItem(hereName)));
        return was?.id && was.id !== left() ? was : { id: "", name: "", place: "" };
    }

    const ofPage = {
        id: root.dataset.person || "",
        name: root.dataset.personName || "",
        place: document.querySelector(".who .person small")?.textContent || "",
    };
    const me = without ? whoWas() : ofPage;
    // Who pressed "not me" while the server was away sends nothing more until they have signed in again.
    me.leaving = me.id !== "" && left() === me.id;

    if (live && me.id) storage((kept) => kept.setItem(hereName, JSON.stringify({ id: me.id, name: me.name, place: me.place })));
    else if (live) forget(hereName);

    function name() {
        if (!me.id) return;
        for (const nobody of document.querySelectorAll("[data-nobody]")) nobody.hidden = true;
        for (const somebody of document.querySelectorAll("[data-somebody]")) somebody.hidden = false;
        const place = document.createElement("small");
        place.textContent = me.place;
        document.querySelector(".person[data-somebody]").replaceChildren(`${me.name} `, place);
    }

    // "Not me" counts at once, with or without the server: what was kept for this person goes, and the server is told when it is there.
    document.addEventListener("submit", (event) => {
        const form = event.target;
        if (!form.querySelector(".not-me")) return;
        event.preventDefault();
        storage((kept) => kept.setItem(leftName, me.id));
        forget(hereName);
        me.leaving = true;
        const leave = () => (window.handwheelTablet.isLost() ? location.assign("/floor/no-connection?left") : form.submit());
        window.handwheelKept.leave().then(leave, leave);
    });

    function stillLeaving() {
        const was = left();
        if (!was) return false;
        forget(leftName);
        if (was !== me.id) return false;
        document.querySelector(".not-me")?.form.submit();
        return true;
    }

    if (without) name();
    window.handwheelHere = { me, storage, stillLeaving };
})();
