// Keeps what is typed in a form with data-draft until it is saved: a lost connection
// or an ended session loses nothing. Secrets, files and the form's key are never kept.
(() => {
    "use strict";
    const forms = document.querySelectorAll("form[data-draft]");
    const LASTS_MS = 12 * 3600 * 1000;
    const SKIP = new Set(["csrfmiddlewaretoken", "form_key"]);

    const isKept = (e) =>
        e.name && !SKIP.has(e.name) && !["password", "file", "hidden", "submit"].includes(e.type);
    const keyOf = (form) => `draft ${location.pathname} ${form.dataset.draft}`;

    function read(key) {
        try {
            const kept = JSON.parse(localStorage.getItem(key));
            return kept && Date.now() - kept.at < LASTS_MS ? kept.values : null;
        } catch {
            return null;
        }
    }

    function keep(form) {
        const values = {};
        for (const e of form.elements) {
            if (!isKept(e)) continue;
            if (e.type === "checkbox" || e.type === "radio") values[`${e.name}=${e.value}`] = e.checked;
            else values[e.name] = e.value;
        }
        try {
            localStorage.setItem(keyOf(form), JSON.stringify({ at: Date.now(), values }));
        } catch {
            // A full or closed store loses the convenience, not the form.
        }
    }

    function restore(form, values) {
        for (const e of form.elements) {
            if (!isKept(e)) continue;
            const tick = values[`${e.name}=${e.value}`];
            if (e.type === "checkbox" || e.type === "radio") {
                if (tick !== undefined) e.checked = tick;
            } else if (values[e.name] !== undefined) e.value = values[e.name];
        }
    }

    for (const form of forms) {
        const key = keyOf(form);
        const refused = form.querySelector(".wrong-whole");
        const values = refused ? null : read(key);
        if (values) restore(form, values);
        form.addEventListener("input", () => keep(form));
    }

    // A page that says "saved" has taken the form that was sent last.
    for (const form of forms) form.addEventListener("submit", () => sessionStorage.setItem("sent", keyOf(form)));
    const sent = sessionStorage.getItem("sent");
    if (sent && document.querySelector(".message.success")) localStorage.removeItem(sent);
    if (document.querySelector(".message")) sessionStorage.removeItem("sent");
})();
