// The live drawing: the picture is made in the kernel; here it is looked at, walked through, picked from and pulled on.
const HINT = matchMedia("(pointer: coarse)").matches
  ? "Touch a part to read what it is; its checks are further down."
  : "Point at a part, or press the arrow keys here, to read what it is. A click, or Enter, shows its checks.";

export default {
  render({ model, el }) {
    const root = document.createElement("div");
    root.className = "dk dk-drawing";
    root.innerHTML = `<div class="dk-bar"><div class="dk-tabs" role="tablist" aria-label="Drawings"></div>
      <div class="dk-zoom" role="group" aria-label="Size of the drawing">
      <button type="button" data-zoom="1.4" aria-label="larger" title="larger">+</button>
      <button type="button" data-zoom="0.714" aria-label="smaller" title="smaller">−</button>
      <button type="button" data-zoom="0" aria-label="whole drawing" title="whole drawing">whole</button>
      <button type="button" data-wide aria-pressed="false" title="the drawing alone, across the page">wide</button></div></div>
      <div class="dk-choices"></div><div class="dk-stage" tabindex="0" role="application"></div>
      <div class="dk-live" aria-live="polite"></div><div class="dk-beneath" role="region" aria-label="Figures of the drawing"></div>`;
    el.appendChild(root);
    const [stage, live, tabs, choices, beneath] = ["stage", "live", "tabs", "choices", "beneath"].map((name) => root.querySelector(`.dk-${name}`));
    let here = "", frame = null, whole = [0, 0, 1, 1], drawnView = "", pulling = null, panning = null, underWay = 0, waiting = null;

    const svg = () => stage.querySelector("svg");
    const parts = () => [...stage.querySelectorAll(".dp-part")];
    const marks = () => [...new Set(parts().map((part) => part.dataset.mark))];
    const words = (mark) => parts().find((part) => part.dataset.mark === mark)?.querySelector("title")?.textContent ?? "";

    function say(text) { if (live.textContent !== text) live.textContent = text; }
    function lead(mark) {
      const found = Object.keys(model.get("grips")).filter((letter) => mark === letter || mark.startsWith(letter + "-"));
      return found.sort((a, b) => b.length - a.length)[0] ?? "";
    }
    function dress() {
      const picked = model.get("value"), lit = new Set(model.get("lit"));
      const shown = marks();
      if (!shown.includes(here)) here = "";
      parts().forEach((part) => {
        const mark = part.dataset.mark;
        part.classList.toggle("is-here", mark === here && here !== "");
        part.classList.toggle("is-picked", (mark === picked && picked !== "") || lit.has(mark));
        part.classList.toggle("is-grip", lead(mark) !== "");
      });
      say(here ? words(here) : picked && shown.includes(picked) ? words(picked) : HINT);
    }
    function draw() {
      const view = model.get("view");
      stage.innerHTML = model.get("svg");
      const picture = svg();
      if (picture) {
        whole = picture.getAttribute("viewBox").split(" ").map(Number);
        if (view !== drawnView) frame = null;
        if (frame) picture.setAttribute("viewBox", frame.join(" "));
        stage.setAttribute("aria-label", `${picture.getAttribute("aria-label")}. Arrow keys walk from part to part.`);
      }
      drawnView = view;
      dress();
    }
    function drawTabs() {
      const view = model.get("view"), focused = tabs.contains(document.activeElement);
      tabs.replaceChildren(...model.get("views").map((name) => {
        const tab = document.createElement("button");
        tab.type = "button";
        tab.textContent = name;
        tab.setAttribute("role", "tab");
        tab.setAttribute("aria-selected", String(name === view));
        tab.tabIndex = name === view ? 0 : -1;
        tab.addEventListener("click", () => { model.set("view", name); model.save_changes(); });
        return tab;
      }));
      if (focused) tabs.querySelector('[aria-selected="true"]')?.focus();
    }
    tabs.addEventListener("keydown", (event) => {
      const step = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
      if (!step) return;
      const names = model.get("views");
      event.preventDefault();
      event.stopPropagation();
      model.set("view", names[(names.indexOf(model.get("view")) + step + names.length) % names.length]);
      model.save_changes();
    });

    // What there is to choose beside the view: which plan, which level, whose load path.
    let known = "", told = 0;
    function choose(name, value) {
      model.set("chosen", { n: Date.now() + (told += 1), name, value });
      model.save_changes();
    }
    function row(choice) {
      const box = document.createElement("div");
      box.className = "dk-row";
      box.setAttribute("role", "radiogroup");
      box.setAttribute("aria-label", choice.label);
      choice.options.forEach(([value, words]) => {
        const button = document.createElement("button");
        button.type = "button";
        button.textContent = words;
        button.setAttribute("role", "radio");
        button.setAttribute("aria-checked", String(value === choice.value));
        button.tabIndex = value === choice.value ? 0 : -1;
        button.addEventListener("click", () => choose(choice.name, value));
        box.appendChild(button);
      });
      box.addEventListener("keydown", (event) => {
        const step = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
        if (!step) return;
        event.preventDefault();
        event.stopPropagation();
        const values = choice.options.map((option) => option[0]);
        choose(choice.name, values[(values.indexOf(choice.value) + step + values.length) % values.length]);
      });
      return box;
    }
    function select(choice) {
      const label = document.createElement("label"), box = document.createElement("select");
      label.append(`${choice.label} `, box);
      box.dataset.name = choice.name;
      let group = null, holder = box;
      choice.options.forEach(([value, words, kind]) => {
        if (kind !== group) {
          group = kind;
          holder = box;
          if (kind) { holder = document.createElement("optgroup"); holder.label = kind; box.appendChild(holder); }
        }
        holder.appendChild(new Option(words, value, false, value === choice.value));
      });
      box.addEventListener("change", () => choose(choice.name, box.value));
      box.addEventListener("keydown", (event) => event.stopPropagation());
      return label;
    }
    function drawChoices() {
      const wanted = model.get("choices"), now = JSON.stringify(wanted);
      if (now === known) return;
      known = now;
      const had = choices.contains(document.activeElement) ? document.activeElement : null;
      choices.replaceChildren(...wanted.map((choice) => (choice.kind === "row" ? row(choice) : select(choice))));
      choices.hidden = !wanted.length;
      if (had?.dataset.name) choices.querySelector(`select[data-name="${had.dataset.name}"]`)?.focus();
      else if (had) choices.querySelector('[aria-checked="true"]')?.focus();
    }
    function drawBeneath() { beneath.innerHTML = model.get("beneath"); beneath.hidden = !model.get("beneath"); }

    function pick(mark) { model.set("value", mark); model.save_changes(); dress(); }
    function walk(step, kinds) {
      const list = marks();
      if (!list.length) return;
      if (!kinds) {
        here = here ? list[(list.indexOf(here) + step + list.length) % list.length] : list[step > 0 ? 0 : list.length - 1];
      } else {
        const kindOf = (mark) => parts().find((part) => part.dataset.mark === mark).className.baseVal.split(" ").find((name) => name.startsWith("dp-") && name !== "dp-part");
        const order = [...new Set(list.map(kindOf))];
        const now = here ? order.indexOf(kindOf(here)) : step > 0 ? -1 : 0;
        const wanted = order[(now + step + order.length) % order.length];
        here = list.find((mark) => kindOf(mark) === wanted);
      }
      dress();
    }
    stage.addEventListener("keydown", (event) => {
      const deeds = {
        ArrowRight: () => walk(1), ArrowLeft: () => walk(-1), ArrowDown: () => walk(1, true), ArrowUp: () => walk(-1, true),
        Home: () => { here = ""; walk(1); }, End: () => { here = ""; walk(-1); },
        Enter: () => here && pick(here), " ": () => here && pick(here), Escape: () => { here = ""; pick(""); },
        "+": () => zoom(1.4), "-": () => zoom(0.714), 0: () => zoom(0),
      };
      if (!deeds[event.key] || event.ctrlKey || event.metaKey || event.altKey) return;
      event.preventDefault();
      event.stopPropagation();
      deeds[event.key]();
    });

    function zoom(factor, at) {
      const picture = svg();
      if (!picture) return;
      const [x, y, wide, high] = frame ?? whole;
      if (factor === 0 || wide / factor >= whole[2]) frame = null;
      else {
        const [cx, cy] = at ?? [x + wide / 2, y + high / 2];
        frame = [cx - (cx - x) / factor, cy - (cy - y) / factor, wide / factor, high / factor];
      }
      picture.setAttribute("viewBox", (frame ?? whole).join(" "));
      stage.classList.toggle("is-moved", Boolean(frame));
    }
    const inside = (event) => {
      const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg().getScreenCTM().inverse());
      return [point.x, point.y];
    };
    root.querySelector(".dk-zoom").addEventListener("click", (event) => {
      const pressed = event.target.closest("button");
      if (pressed?.dataset.wide !== undefined) {
        const wide = root.closest(".dk-halves")?.classList.toggle("is-wide") ?? false;
        pressed.setAttribute("aria-pressed", String(wide));
      }
      const factor = pressed?.dataset.zoom;
      if (factor !== undefined) zoom(Number(factor));
    });
    stage.addEventListener("wheel", (event) => {
      if (!event.ctrlKey && !event.metaKey) return;
      event.preventDefault();
      zoom(event.deltaY < 0 ? 1.2 : 1 / 1.2, inside(event));
    }, { passive: false });

    // A level is pulled up and down by any of its parts, where the view shows heights.
    function tell() {
      if (underWay || !waiting) return;
      underWay = Date.now();
      model.set("pull", { ...waiting, n: underWay });
      waiting = null;
      model.save_changes();
    }
    stage.addEventListener("pointerdown", (event) => {
      if (event.button !== 0 || !svg()) return;
      const mark = event.target.closest(".dp-part")?.dataset.mark ?? "";
      const scale = 1 / svg().getScreenCTM().d;
      if (lead(mark)) pulling = { letter: lead(mark), mark, from: event.clientY, scale, began: false, gesture: `pull-${Date.now()}` };
      else if (frame) panning = { from: [event.clientX, event.clientY], frame: [...frame], scale };
      if (pulling || panning) stage.setPointerCapture(event.pointerId);
    });
    stage.addEventListener("pointermove", (event) => {
      if (pulling) {
        const moved = pulling.from - event.clientY;
        if (!pulling.began && Math.abs(moved) < 4) return;
        pulling.began = true;
        waiting = { letter: pulling.letter, by: moved * pulling.scale, gesture: pulling.gesture };
        tell();
      } else if (panning) {
        const [x, y] = panning.from, [left, top, wide, high] = panning.frame;
        frame = [left - (event.clientX - x) * panning.scale, top - (event.clientY - y) * panning.scale, wide, high];
        svg().setAttribute("viewBox", frame.join(" "));
      }
    });
    const release = () => {
      if (pulling && !pulling.began) { here = pulling.mark; pick(pulling.mark); }
      pulling = panning = null;
    };
    stage.addEventListener("pointerup", release);
    stage.addEventListener("pointercancel", release);
    stage.addEventListener("click", (event) => {
      const mark = event.target.closest(".dp-part")?.dataset.mark;
      if (mark && !lead(mark)) { here = mark; pick(mark); }
    });
    stage.addEventListener("pointerover", (event) => {
      const mark = event.target.closest(".dp-part")?.dataset.mark;
      if (mark) say(words(mark));
    });
    stage.addEventListener("pointerleave", dress);
    stage.addEventListener("focus", () => { if (!here && stage.matches(":focus-visible")) walk(1); });

    const answered = () => { underWay = 0; tell(); };
    const width = new ResizeObserver(([entry]) => {
      const wide = Math.round(entry.contentRect.width);
      const room = wide < 560 ? "narrow" : "wide";
      if (wide && room !== model.get("room")) { model.set("room", room); model.save_changes(); }
    });
    width.observe(stage);
    const heard = [["svg", draw], ["view", drawTabs], ["views", drawTabs], ["value", dress], ["lit", dress], ["grips", dress], ["answered", answered],
      ["choices", drawChoices], ["beneath", drawBeneath]];
    heard.forEach(([name, hear]) => model.on(`change:${name}`, hear));
    drawTabs();
    drawChoices();
    drawBeneath();
    draw();
    return () => { width.disconnect(); heard.forEach(([name, hear]) => model.off(`change:${name}`, hear)); };
  },
};
