// Counts down to the moment in data-deadline. Without it the moment itself is read.
(() => {
    "use strict";
    const NEAR_S = 5 * 60;
    const clocks = document.querySelectorAll("[data-deadline]");
    if (!clocks.length) return;

    const two = (n) => String(n).padStart(2, "0");

    function spelled(seconds) {
        const h = Math.floor(seconds / 3600);
        const m = Math.floor((seconds % 3600) / 60);
        const s = seconds % 60;
        return h ? `${h} h ${two(m)} min` : `${m}:${two(s)}`;
    }

    function show(clock) {
        const left = Math.round((new Date(clock.dataset.deadline) - Date.now()) / 1000);
        clock.textContent = left >= 0 ? `${spelled(left)} left` : `${spelled(-left)} over`;
        clock.classList.toggle("is-near", left >= 0 && left <= NEAR_S);
        clock.classList.toggle("is-past", left < 0);
    }

    const showAll = () => clocks.forEach(show);
    showAll();
    setInterval(showAll, 1000);
})();
