// A stretch of text and tables made in the kernel; whatever carries data-pick can be pressed, or chosen from.
export default {
  render({ model, el }) {
    const root = document.createElement("div");
    root.className = "dk dk-page";
    el.appendChild(root);
    let count = 0, timer = 0;

    function show() {
      const html = model.get("html");
      const focused = root.contains(document.activeElement) ? document.activeElement.dataset.pick : undefined;
      const scrolled = [...root.querySelectorAll(".dk-scroll")].map((box) => [box.scrollTop, box.scrollLeft]);
      root.innerHTML = html;
      busy(false);
      root.querySelectorAll(".dk-scroll").forEach((box, index) => {
        if (scrolled[index]) [box.scrollTop, box.scrollLeft] = scrolled[index];
      });
      if (focused !== undefined) root.querySelector(`[data-pick="${CSS.escape(focused)}"]`)?.focus({ preventScroll: true });
    }
    function busy(is) {
      clearTimeout(timer);
      root.setAttribute("aria-busy", String(is));
      if (is) timer = setTimeout(() => busy(false), 5000);
    }
    function tell(pick) {
      count += 1;
      busy(true);
      model.set("value", { n: Date.now() + count, pick });
      model.save_changes();
    }
    function press(target) {
      const item = target.closest?.("[data-pick]");
      if (item && root.contains(item) && !item.disabled && item.tagName !== "SELECT") tell(item.dataset.pick);
    }
    root.addEventListener("click", (event) => press(event.target));
    root.addEventListener("change", (event) => {
      if (event.target.matches("select[data-pick]")) tell(event.target.dataset.pick + event.target.value);
    });
    root.addEventListener("keydown", (event) => {
      if (event.target.tagName === "SELECT") event.stopPropagation();
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
    // The drawing is painted first; what stands round it follows in the next frame.
    let due = 0;
    const later = () => {
      cancelAnimationFrame(due);
      if (document.hidden) show(); else due = requestAnimationFrame(() => setTimeout(show));
    };
    model.on("change:html", later);
    show();
    return () => { cancelAnimationFrame(due); model.off("change:html", later); };
  },
};
