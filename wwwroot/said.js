// Texts of the scripts in the tablet's language: said`Kept for ${age}.` looks up "Kept for {0}." in the words of that language, where the page
// has any; what is not there is said in English.
(() => {
    "use strict";

    const words = window.handwheelWords || {};

    window.handwheelSaid = (parts, ...values) => {
        const key = parts.reduce((text, part, i) => `${text}{${i - 1}}${part}`);
        return (words[key]?.es ?? key).replace(/\{(\d+)\}/g, (_, i) => values[i]);
    };
})();
