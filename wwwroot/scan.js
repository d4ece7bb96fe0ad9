// The camera in the page: looks for a QR code and asks the server what it is. What the code holds is never gone to; it
// travels as text to this server, which answers in words.
const said = window.handwheelSaid;
const scanner = document.getElementById("scanner");
const video = document.getElementById("scan-video");
const start = document.getElementById("scan-start");
const says = document.getElementById("scan-says");
const lookEvery = 150;
const widest = 960;
const sentAtMost = 600;

if (window.isSecureContext && navigator.mediaDevices?.getUserMedia) {
    scanner.hidden = false;
    document.getElementById("scan-cannot").hidden = true;
    start.addEventListener("click", look);
}

// The browser's own reader where it has one that knows QR codes, else the library beside this file.
async function reader() {
    if ("BarcodeDetector" in window && (await BarcodeDetector.getSupportedFormats()).includes("qr_code")) {
        const detector = new BarcodeDetector({ formats: ["qr_code"] });
        return async (canvas) => (await detector.detect(canvas))[0]?.rawValue;
    }
    const { decodeQR } = await import("/qr/decode.js");
    return async (canvas) => {
        try {
            return decodeQR(canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height));
        } catch {
            return undefined; // no code in this picture
        }
    };
}

async function look() {
    start.disabled = true;
    says.textContent = said`Asking for the camera …`;
    let stream;
    try {
        stream = await navigator.mediaDevices.getUserMedia({
            audio: false,
            video: { facingMode: "environment", width: { ideal: 1280 } },
        });
    } catch (fault) {
        says.textContent =
            fault.name === "NotAllowedError"
                ? said`The camera was not allowed. Allow it in the browser's settings for this page, or type the digits.`
                : said`No camera answers here. Type the digits.`;
        start.disabled = false;
        return;
    }
    video.srcObject = stream;
    video.hidden = false;
    await video.play();
    says.textContent = said`Hold the code in front of the camera, a hand's breadth away.`;
    const text = await firstCode(await reader());
    for (const track of stream.getTracks()) track.stop();
    says.textContent = said`Read. Asking the server what it is …`;
    location.assign(`/floor/scan?code=${encodeURIComponent(text.slice(0, sentAtMost))}`);
}

async function firstCode(read) {
    const canvas = document.createElement("canvas");
    for (;;) {
        if (video.videoWidth > 0) {
            const scale = Math.min(1, widest / video.videoWidth);
            canvas.width = Math.round(video.videoWidth * scale);
            canvas.height = Math.round(video.videoHeight * scale);
            canvas.getContext("2d", { willReadFrequently: true }).drawImage(video, 0, 0, canvas.width, canvas.height);
            const text = await read(canvas);
            if (text) return text;
        }
        await new Promise((next) => setTimeout(next, lookEvery));
    }
}
