// Desk pages: what a page can still do when its connection to the server is gone.
document.addEventListener("click", event => {
    if (event.target.closest("[data-load-again]"))
        location.reload();
});
