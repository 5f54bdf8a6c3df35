// Fields that change the plan. The kernel says what stands in each field; the browser says what was typed.
// One message at a time is under way, so that a fast slider never queues up stale values.
let count = 0;

export default {
  render({ model, el }) {
    const root = document.createElement("div");
    root.className = "dk dk-form";
    el.appendChild(root);
    const waiting = new Map();
    const rows = new Map();
    const own = `dk${++count}`;
    let underWay = 0, sent = "", pull = 0, held = "", shape = "", timer = 0;

    function next() {
      if (underWay || !waiting.size) return;
      const [place, [text, gesture]] = waiting.entries().next().value;
      waiting.delete(place);
      underWay = Date.now();
      sent = place;
      model.set("value", { n: underWay, place, text, gesture });
      model.save_changes();
      clearTimeout(timer);
      timer = setTimeout(answered, 4000);
    }
    function send(place, text, gesture = "") { waiting.set(place, [text, gesture]); next(); }
    function answered() { underWay = 0; sent = ""; clearTimeout(timer); next(); later(); }

    function control(field, id) {
      let box;
      if (field.kind === "choice") {
        box = document.createElement("select");
        box.addEventListener("change", () => send(field.place, box.value));
      } else {
        box = document.createElement("input");
        box.type = "text";
        box.autocomplete = "off";
        box.spellcheck = false;
        const commit = () => { if (box.value !== box.dataset.known) { box.dataset.known = box.value; send(field.place, box.value); } };
        box.addEventListener("change", commit);
        box.addEventListener("keydown", (event) => { event.stopPropagation(); if (event.key === "Enter") commit(); });
      }
      box.id = id;
      box.setAttribute("aria-label", field.say);
      box.setAttribute("aria-describedby", `${id}-follows ${id}-remark ${id}-wrong`);
      return box;
    }

    function build(fields) {
      root.replaceChildren();
      const open = new Map([...rows.values()].map((row) => [row.group, row.holder?.open]));
      const had = [...rows].find(([, row]) => row.box === document.activeElement)?.[0];
      rows.clear();
      let group = null, holder = root;
      fields.forEach((field, index) => {
        if (field.group !== group) {
          group = field.group;
          holder = root;
          if (group) {
            holder = document.createElement("details");
            const head = document.createElement("summary");
            head.textContent = group;
            holder.appendChild(head);
            holder.open = open.get(group) ?? field.open;
            root.appendChild(holder);
          }
        }
        const id = `${own}-${index}`;
        const row = document.createElement("div");
        row.className = `dk-field dk-${field.kind}`;
        const label = document.createElement("label");
        label.htmlFor = id;
        const box = control(field, id);
        row.append(label);
        let slider = null;
        if (field.kind === "slide") {
          slider = document.createElement("input");
          slider.type = "range";
          slider.setAttribute("aria-label", `${field.say}, slider`);
          slider.dataset.place = field.place;
          const start = () => { pull += 1; };
          slider.addEventListener("pointerdown", () => { start(); held = field.place; });
          slider.addEventListener("pointerup", () => { held = ""; });
          slider.addEventListener("focus", start);
          slider.addEventListener("keydown", (event) => event.stopPropagation());
          slider.addEventListener("input", () => send(field.place, `${slider.value} ${field.unit}`, `${own}-${pull}`));
          row.append(slider);
        }
        const follows = document.createElement("div");
        follows.className = "dk-follows";
        follows.id = `${id}-follows`;
        const remark = document.createElement("div");
        remark.className = "dk-remark";
        remark.id = `${id}-remark`;
        remark.setAttribute("role", "status");
        const wrong = document.createElement("div");
        wrong.className = "dk-wrong";
        wrong.id = `${id}-wrong`;
        wrong.setAttribute("role", "alert");
        row.append(box, follows, remark, wrong);
        holder.appendChild(row);
        rows.set(field.place, { row, label, box, slider, follows, remark, wrong, group, holder: holder === root ? null : holder });
      });
      return rows.get(had)?.box;
    }

    function fill(field) {
      const { row, label, box, slider, follows, remark, wrong } = rows.get(field.place);
      label.textContent = field.label;
      if (field.kind === "choice") {
        const known = [...box.options].map((option) => option.value).join("|");
        if (known !== field.choices.map((choice) => choice[0]).join("|")) {
          box.replaceChildren(...field.choices.map(([value, words]) => new Option(words, value)));
        }
      }
      const typing = document.activeElement === box && field.kind !== "choice" && box.value !== box.dataset.known;
      if (!typing && box.value !== field.text) box.value = field.text;
      if (!typing) box.dataset.known = field.text;
      if (slider) {
        if (slider.min !== String(field.low)) slider.min = field.low;
        if (slider.max !== String(field.high)) slider.max = field.high;
        if (slider.step !== String(field.step)) slider.step = field.step;
        if (![held, sent].includes(field.place) && !waiting.has(field.place)) slider.value = field.value;
        slider.setAttribute("aria-valuetext", field.text);
      }
      if (follows.textContent !== field.follows) follows.textContent = field.follows;
      if (remark.textContent !== field.remark) remark.textContent = field.remark;
      if (wrong.textContent !== field.wrong) wrong.textContent = field.wrong;
      row.classList.toggle("is-wrong", Boolean(field.wrong));
      if (field.wrong) box.setAttribute("aria-invalid", "true"); else box.removeAttribute("aria-invalid");
    }

    function show() {
      const fields = model.get("fields");
      const wanted = fields.map((field) => `${field.group}|${field.place}|${field.kind}`).join("\n");
      const had = wanted === shape ? null : build(fields);
      shape = wanted;
      fields.forEach(fill);
      had?.focus({ preventScroll: true });
      root.setAttribute("role", "group");
      root.setAttribute("aria-label", model.get("title"));
    }
    // The drawing is painted first; what stands round it follows in the next frame.
    let due = 0;
    const later = () => {
      cancelAnimationFrame(due);
      if (document.hidden) show(); else due = requestAnimationFrame(() => setTimeout(show));
    };
    model.on("change:fields", later);
    model.on("change:answered", answered);
    show();
    return () => { clearTimeout(timer); cancelAnimationFrame(due); model.off("change:fields", later); model.off("change:answered", answered); };
  },
};
