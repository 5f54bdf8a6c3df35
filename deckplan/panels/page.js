// A stretch of text and tables made in the kernel; whatever carries data-pick can be pressed.
export default {
  render({ model, el }) {
    const root = document.createElement("div");
    root.className = "dk dk-page";
    el.appendChild(root);
    let count = 0;

    function show() {
      const html = model.get("html");
      const focused = root.contains(document.activeElement) ? document.activeElement.dataset.pick : undefined;
      const scrolled = [...root.querySelectorAll(".dk-scroll")].map((box) => [box.scrollTop, box.scrollLeft]);
      root.innerHTML = html;
      root.querySelectorAll(".dk-scroll").forEach((box, index) => {
        if (scrolled[index]) [box.scrollTop, box.scrollLeft] = scrolled[index];
      });
      if (focused !== undefined) root.querySelector(`[data-pick="${CSS.escape(focused)}"]`)?.focus({ preventScroll: true });
    }
    function press(target) {
      const item = target.closest?.("[data-pick]");
      if (!item || !root.contains(item) || item.disabled) return;
      count += 1;
      model.set("value", { n: Date.now() + count, pick: item.dataset.pick });
      model.save_changes();
    }
    root.addEventListener("click", (event) => press(event.target));
    root.addEventListener("keydown", (event) => {
      const tab = event.target.closest?.('[role="tab"]');
      if (!tab || !["ArrowLeft", "ArrowRight"].includes(event.key)) return;
      const tabs = [...tab.parentElement.querySelectorAll('[role="tab"]')];
      const step = event.key === "ArrowRight" ? 1 : -1;
      const next = tabs[(tabs.indexOf(tab) + step + tabs.length) % tabs.length];
      event.preventDefault();
      event.stopPropagation();
      next.focus();
      press(next);
    });
    model.on("change:html", show);
    show();
    return () => model.off("change:html", show);
  },
};
