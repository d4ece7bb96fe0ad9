// Pages at the machine without the server: files of this version, the prove-outs that this tablet has seen, and a page that says so. Nothing
// is ever taken from here while the server answers.
"use strict";

importScripts("/floor/files.js");

const { version, files } = self.handwheelFiles;
const filesPrefix = "handwheel-files ";
const filesName = filesPrefix + version;
const pagesName = "handwheel-pages";
const noConnection = "/floor/no-connection";
const spanish = `${noConnection}?language=es`;
const patience = 6000;
const shortPatience = 1500;
const postPatience = 30000;

let lostUntil = 0;

self.addEventListener("install", (event) => {
    const fresh = [
        ...files.map((file) => new Request(file, { cache: "reload" })),
        new Request(noConnection, { cache: "reload", credentials: "omit" }), // it belongs to nobody
        new Request(spanish, { cache: "reload", credentials: "omit" }),
    ];
    event.waitUntil(caches.open(filesName).then((cache) => cache.addAll(fresh)).then(() => self.skipWaiting()));
});

// Files of an older version go when no kept page asks for them any more.
async function tidy() {
    const pages = await caches.open(pagesName);
    const asked = new Set([filesName]);
    for (const request of await pages.keys()) asked.add(filesPrefix + (await pages.match(request)).headers.get("Handwheel"));
    for (const name of await caches.keys()) if (name.startsWith(filesPrefix) && !asked.has(name)) await caches.delete(name);
}

self.addEventListener("activate", (event) => event.waitUntil(tidy().then(() => self.clients.claim())));

// A page that hears the server again says so: its next load is given the usual time.
self.addEventListener("message", () => (lostUntil = 0));

const within = (work, time) =>
    Promise.race([work, new Promise((_, fail) => setTimeout(() => fail(new TypeError("no answer in time")), time))]);

// A captive portal or a proxy answers as well; our server says that it is ours. A redirect is passed on to the browser.
// A page counts when all of it is there: half a page would hide what stands in the other half.
async function whole(answer) {
    if (answer.type === "opaqueredirect") return answer;
    if (!answer.headers.has("Handwheel")) return null;
    const { status, statusText, headers } = answer;
    return new Response(await answer.arrayBuffer(), { status, statusText, headers });
}

async function kept(path) {
    const seen = /^\/floor\/prove-outs\/[0-9a-f-]{36}$/.exec(path);
    if (!seen) return null;
    const pages = await caches.open(pagesName);
    return pages.match(`${path}/kept`);
}

// In the language of the page that this tablet showed last.
async function saysNoConnection() {
    const language = await (await caches.match("/floor/language"))?.text();
    return (await caches.match(language === "es" ? spanish : noConnection)) || Response.error();
}

// Given up when it takes too long: a request that hangs on would hold up the next one for the same page.
const fromServer = (request, time) =>
    fetch(request.url, {
        headers: { Accept: request.headers.get("Accept") },
        credentials: "same-origin",
        redirect: "manual",
        cache: "no-store",
        signal: AbortSignal.timeout(time),
    });

async function shown(request, url) {
    if (url.pathname === noConnection) return saysNoConnection();
    try {
        const answer = await whole(await fromServer(request, Date.now() < lostUntil ? shortPatience : patience));
        if (answer) {
            lostUntil = 0;
            return answer;
        }
    } catch {
        // no server: what was kept
    }
    lostUntil = Date.now() + 10000;
    return (await kept(url.pathname)) || saysNoConnection();
}

// What is pressed and needs the server: signing in, the start of a prove-out, a register outside of one.
async function pressed(request) {
    try {
        const answer = await within(fetch(request).then(whole), postPatience);
        if (answer) return answer;
    } catch {
        // no server
    }
    return Response.redirect(`${noConnection}?pressed`, 303);
}

const isFile = (url) => /\.(css|js|svg|png|woff2|webmanifest)$/.test(url.pathname);

self.addEventListener("fetch", (event) => {
    const { request } = event;
    const url = new URL(request.url);
    if (url.origin !== self.location.origin) return;
    if (request.mode === "navigate") event.respondWith(request.method === "GET" ? shown(request, url) : pressed(request));
    else if (request.method === "GET" && isFile(url)) event.respondWith(caches.match(request).then((file) => file || fetch(request)));
});
