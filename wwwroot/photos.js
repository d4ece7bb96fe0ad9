// A photo is scaled down in the browser (which leaves out what the camera wrote into it), kept in the tablet's queue, and sent after the ticks.
(() => {
    "use strict";

    const said = window.handwheelSaid;
    const longestSide = 2048;
    const quality = 0.85;
    const bytesMost = 16 * 1024 * 1024;
    const queue = window.handwheelQueue;
    const told = window.handwheelTold;

    const starts = (bytes, ...first) => first.every((byte, i) => bytes[i] === byte);

    async function typeOf(file) {
        const head = new Uint8Array(await file.slice(0, 8).arrayBuffer());
        if (starts(head, 0xff, 0xd8, 0xff)) return "image/jpeg";
        return starts(head, 0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a) ? "image/png" : null;
    }

    // Turned the right way up by what the camera says; a picture that this browser cannot open is left as it is.
    async function scaled(file) {
        let picture;
        try {
            picture = await createImageBitmap(file, { imageOrientation: "from-image" });
        } catch {
            return file;
        }
        const scale = Math.min(1, longestSide / Math.max(picture.width, picture.height));
        const canvas = document.createElement("canvas");
        canvas.width = Math.max(1, Math.round(picture.width * scale));
        canvas.height = Math.max(1, Math.round(picture.height * scale));
        const on = canvas.getContext("2d");
        on.fillStyle = "#fff";
        on.fillRect(0, 0, canvas.width, canvas.height);
        on.drawImage(picture, 0, 0, canvas.width, canvas.height);
        picture.close();
        return (await new Promise((made) => canvas.toBlob(made, "image/jpeg", quality))) || file;
    }

    async function pictureOf(file) {
        const type = await typeOf(file);
        if (!type) return { no: said`This is neither a JPEG nor a PNG picture. Where the camera offers it, set it to JPEG.` };
        const small = await scaled(file);
        if (small.size > bytesMost) return { no: said`A photo has at most ${bytesMost / 1024 / 1024} MiB.` };
        return { photo: { bytes: await small.arrayBuffer(), type: small === file ? type : "image/jpeg" } };
    }

    async function take(form) {
        const buttons = [...form.querySelectorAll("button")];
        for (const button of buttons) button.disabled = true;
        told.beside(form, said`Making the photo smaller …`);
        try {
            await queue.ready;
            const { photo, no } = await pictureOf(form.elements.photo.files[0]);
            if (no) return told.beside(form, said`Refused, nothing was recorded.`, no);
            const entry = window.handwheelTablet.entryOf(form, null, "photo");
            if (queue.isOlder()) return told.beside(form, said`Nothing was recorded.`, queue.trouble());
            if (await kept(entry, photo)) emptied(form);
            else await sentAtOnce(form, entry, photo);
        } catch {
            notSaved(form, said`the picture could not be read. Choose it again.`);
        } finally {
            for (const button of buttons) button.disabled = false;
            await window.handwheelTablet.show();
        }
        window.handwheelTablet.flush();
    }

    async function kept(entry, photo) {
        if (!queue.canKeep()) return false;
        try {
            await queue.keep(entry, photo);
            return true;
        } catch {
            return false;
        }
    }

    // The next photo from this page is another one.
    function emptied(form) {
        form.elements.photo.value = "";
        form.elements["act.caption"].value = "";
        form.elements.key.value = queue.newKey();
        delete form.dataset.unsaved;
        told.beside(form, said`Kept on this tablet, and sent after the entries. The banner says when it is saved. Another photo can be taken.`);
    }

    // A tablet with no room: sent now or not at all, and the picture stays chosen.
    async function sentAtOnce(form, entry, photo) {
        told.beside(form, said`This tablet has no room to keep it. Sending it to the server …`);
        try {
            const { status, body } = await window.handwheelTablet.sendPhoto(entry, photo);
            if (status !== 200) return told.beside(form, said`Refused, nothing was recorded.`, ...window.handwheelTablet.reasonsOf(body));
            emptied(form);
            told.beside(form, said`Saved on the server.`);
        } catch {
            notSaved(form, said`no answer from the server, and this tablet has no room to keep it. What was chosen stays on this page only: press again when the connection is back. If it did arrive, it counts once.`);
        }
    }

    function notSaved(form, why) {
        form.dataset.unsaved = ""; // the banner says so too
        told.beside(form, said`NOT SAVED: ${why}`);
    }

    document.addEventListener("submit", (event) => {
        if (!("photo" in event.target.dataset)) return;
        event.preventDefault();
        take(event.target);
    });
})();
