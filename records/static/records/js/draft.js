// Keeps what is typed in a form with data-draft until it is saved: a lost connection or
// an ended session loses nothing. It is offered, never put back unasked: a time typed
// hours ago would be wrong now. Secrets, files and the form's key are not kept.
(() => {
    "use strict";
    const LASTS_MS = 12 * 3600 * 1000;
    const NOT_KEPT = new Set(["csrfmiddlewaretoken", "form_key"]);
    const NO_TYPE = new Set(["password", "file", "hidden", "submit", "button"]);
    const forms = [...document.querySelectorAll("form[data-draft]")];

    const keyOf = (form) => `draft ${location.pathname}${location.search} ${forms.indexOf(form)}`;
    const fieldsOf = (form) =>
        [...form.elements].filter((e) => e.name && !NOT_KEPT.has(e.name) && !NO_TYPE.has(e.type));
    const isTick = (e) => e.type === "checkbox" || e.type === "radio";
    const nameOf = (e) => (isTick(e) ? `${e.name}=${e.value}` : e.name);

    function read(key) {
        try {
            const kept = JSON.parse(localStorage.getItem(key));
            return kept && Date.now() - kept.at < LASTS_MS ? kept : null;
        } catch {
            return null;
        }
    }

    function keep(form) {
        const values = {};
        for (const e of fieldsOf(form)) values[nameOf(e)] = isTick(e) ? e.checked : e.value;
        try {
            localStorage.setItem(keyOf(form), JSON.stringify({ at: Date.now(), values }));
        } catch {
            // A store that is full or closed loses the convenience, not the form.
        }
    }

    function putBack(form, values) {
        for (const e of fieldsOf(form)) {
            const value = values[nameOf(e)];
            if (value === undefined) continue;
            if (isTick(e)) e.checked = value;
            else e.value = value;
        }
    }

    function button(words, onPress) {
        const made = document.createElement("button");
        made.type = "button";
        made.className = "button";
        made.textContent = words;
        made.addEventListener("click", onPress);
        return made;
    }

    function offer(form, kept) {
        const bar = document.createElement("div");
        bar.className = "draft";
        bar.setAttribute("role", "status");
        const time = new Date(kept.at).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit", hour12: false });
        bar.append(`Something typed here at ${time} was not saved.`);
        const bringBack = () => { putBack(form, kept.values); bar.remove(); };
        const drop = () => { localStorage.removeItem(keyOf(form)); bar.remove(); };
        bar.append(button("Bring it back", bringBack), button("Drop it", drop));
        form.prepend(bar);
    }

    // A page that says it was saved has taken the form that was sent last.
    const sent = sessionStorage.getItem("sent");
    if (sent && document.querySelector(".message.success, .message.info")) localStorage.removeItem(sent);
    sessionStorage.removeItem("sent");

    for (const form of forms) {
        const kept = form.querySelector(".wrong-whole") ? null : read(keyOf(form));
        if (kept) offer(form, kept);
        form.addEventListener("input", () => keep(form));
        form.addEventListener("submit", () => sessionStorage.setItem("sent", keyOf(form)));
    }
})();
