// Steps through the build: one step at a time, and under it the films as they
// stand. The page reads without it.
"use strict";
(() => {
  const byID = (id) => document.getElementById(id);
  const build = byID("build"), walk = byID("walk"), start = byID("start");
  const steps = Array.from(document.querySelectorAll(".step"));
  if (!walk || steps.length === 0) return;
  const turn = byID("walk-turn"), moves = byID("walk-moves"), back = byID("walk-back"), next = byID("walk-next");
  const count = byID("walk-count"), said = byID("walk-said");
  let at = -1; // the step that is shown; -1: all of them

  // What stands after a step: the last drawing up to it.
  const standing = (i) => {
    while (i >= 0 && !steps[i].querySelector(".drawing")) i--;
    return i >= 0 ? steps[i] : start;
  };

  const show = (i) => {
    at = i;
    const on = i >= 0;
    build.classList.toggle("walking", on);
    walk.classList.toggle("on", on);
    moves.hidden = !on;
    turn.textContent = on ? "Show all the steps" : "Step through the build";
    for (const el of [start, ...steps]) if (el) el.classList.remove("now", "stands");
    if (!on) {
      said.textContent = "All the steps are shown.";
      return;
    }
    const step = steps[i], stands = standing(i);
    step.classList.add("now");
    if (stands && stands !== step) stands.classList.add("stands");
    back.setAttribute("aria-disabled", String(i === 0));
    next.setAttribute("aria-disabled", String(i === steps.length - 1));
    count.textContent = i + 1 + " of " + steps.length;
    said.textContent = step.dataset.tell;
    walk.scrollIntoView({ block: "start" });
  };

  const move = (by) => {
    const to = at + by;
    if (to >= 0 && to < steps.length) show(to);
  };

  turn.addEventListener("click", () => show(at < 0 ? 0 : -1));
  back.addEventListener("click", () => move(-1));
  next.addEventListener("click", () => move(1));
  document.addEventListener("keydown", (e) => {
    if (at < 0 || e.ctrlKey || e.altKey || e.metaKey || e.shiftKey || e.target.closest(".scroll")) return;
    if (e.key === "ArrowRight") move(1);
    else if (e.key === "ArrowLeft") move(-1);
    else if (e.key === "Escape") {
      show(-1);
      turn.focus();
    } else return;
    e.preventDefault();
  });
  // A link to a step that is not shown goes there.
  window.addEventListener("hashchange", () => {
    const i = steps.findIndex((s) => "#" + s.id === location.hash);
    if (at >= 0 && i >= 0) show(i);
  });
  walk.hidden = false;
})();
