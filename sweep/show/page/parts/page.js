// One page, two lives: served, it asks for the simulation anew; sent as a file, it holds all that it shows.

import { element } from "./elements.js";
import { SawView } from "./saw_view.js";
import { drawDeviation, drawSection } from "./section.js";
import { Settings } from "./settings.js";
import { drawFlags, drawLegend, drawTable, markRow } from "./table.js";

class Page {
  constructor(data) {
    this.live = data.live;
    this.files = data.files;
    this.model = data.model;
    this.units = data.model.units;
    this.kind = "pass";
    this.number = this.last;
    this.share = 1; // of the feed of this pass
    this.words();
    this.controls();
    if (this.live) this.settings = new Settings(this, data.settings);
    else this.tellSettings(data.settings);
    this.openSolid();
    this.redraw();
    window.addEventListener("resize", () => this.drawSections());
  }

  // The last place of the pass slider: the last pass, or beyond it the finished moulding.
  get last() {
    return this.model.finished || this.model.passes.length;
  }

  get one() {
    return this.model.passes[this.number - 1];
  }

  // How far the stock has gone, mm; null after the whole pass.
  get travel() {
    if (!this.one || this.share >= 1) return null;
    return this.one.start + this.share * (this.one.end - this.one.start);
  }

  openSolid() {
    try {
      this.solid = new SawView(document.getElementById("solid"), (number) => this.pick(number));
      this.solid.put(this.model);
    } catch (wrong) {
      this.solid = null;
      document.getElementById("solid").hidden = true;
      document.getElementById("views").hidden = true;
      const words = document.getElementById("no-solid");
      words.hidden = false;
      words.textContent = `There is no 3D picture here: ${wrong.message}. The section and the table below are complete without it.`;
    }
  }

  words() {
    const { model } = this, set = (id, text) => (document.getElementById(id).textContent = text);
    set("title", model.title);
    set("headline", model.headline.slice(model.headline.indexOf(": ") + 2));
    set("verdict", model.verdict);
    set("marks", model.marks);
    set("cautions-words", model.cautions);
    document.getElementById("verdict").className = model.within === null ? "" : model.within ? "within" : "off";
    document.title = model.title;
    drawTable(document.getElementById("passes"), model, (number) => this.pick(number));
    drawFlags(document.getElementById("flags"), model);
    const slider = document.getElementById("pass");
    slider.max = this.last;
  }

  // What the saw is set to, on a page that cannot change it.
  tellSettings(rows) {
    const rowsOf = (row) => [element("dt", {}, row.label), element("dd", {}, row.text)];
    document.getElementById("set").replaceChildren(...rows.flatMap(rowsOf));
    document.getElementById("setup").hidden = false;
  }

  drawSections() {
    drawSection(document.getElementById("section"), this.model, this.number, (number) => this.pick(number));
    const has = Boolean(this.model.section.deviation), shown = has && document.getElementById("magnify").checked;
    document.getElementById("magnify-choice").hidden = !has;
    const place = document.getElementById("deviation");
    if (shown) drawDeviation(place, this.model);
    else place.replaceChildren();
  }

  // Everything that depends on the moment and on the colours.
  redraw() {
    const count = this.model.passes.length, { one } = this;
    document.getElementById("pass").value = this.number;
    document.getElementById("pass-words").textContent = one ? `${this.number} of ${count}` : this.number ? "all, finished" : `none of ${count}`;
    const travel = document.getElementById("travel");
    travel.disabled = !one;
    travel.value = Math.round(1000 * this.share);
    document.getElementById("travel-words").textContent = one ? this.length(this.travel ?? one.end) : "";
    const aside = this.number ? "the finished moulding" : "the planed stock";
    document.getElementById("now").textContent = one ? one.flags.map((flag) => flag.message).join("; ") : aside;
    markRow(document.getElementById("passes"), this.number);
    drawLegend(document.getElementById("legend"), this.model, this.kind);
    this.drawSections();
    this.showSolid(true);
  }

  length(mm) {
    return this.units === "mm" ? `${Math.round(mm)} mm` : `${(mm / 25.4).toFixed(1)} in`;
  }

  // The stock at this moment; a pass under way comes from the stretches of its feed.
  showSolid(anew) {
    if (!this.solid) return;
    const { model, number, travel } = this;
    if (travel === null) {
      this.stretch = null;
      const mesh = model.stages[number];
      if (!mesh) return void (this.live && this.cut(false)); // only what was dragged has come so far
      this.solid.show(mesh, number, this.one?.end ?? (number ? this.model.passes.at(-1).end : this.model.passes[0].start), null, this.kind);
      return;
    }
    const found = model.stretches[number]?.find((one) => travel <= one.last) ?? model.stretches[number]?.at(-1);
    if (!found) return void this.fetchFeed(number);
    if (found === this.stretch && !anew) return this.solid.shiftTo(travel, found.at);
    this.stretch = found;
    this.solid.show(found, number, travel, found.at, this.kind);
  }

  async fetchFeed(number) {
    if (!this.live || this.fetching) return;
    const { model } = this;
    this.fetching = true;
    const reply = await this.ask("feed", { changes: this.shown || {}, pass: number });
    this.fetching = false;
    if (!reply) this.pause();
    if (reply && model === this.model) model.stretches[number] = reply.stretches;
    if (reply) this.showSolid(true);
  }

  pick(number, share = number === this.number ? this.share : 1) {
    this.number = Math.max(0, Math.min(this.last, number));
    this.share = share;
    this.redraw();
  }

  controls() {
    const by = (id) => document.getElementById(id);
    const kinds = [["pass", "pass"], ...(this.model.legends.deviation ? [["deviation", "deviation from the target"]] : []), ["chip", "chip load"], ["wood", "wood"]];
    by("colour").replaceChildren(...kinds.map(([value, words]) => element("option", { value }, words)));
    by("colour").addEventListener("change", (event) => {
      this.kind = event.target.value;
      this.redraw();
    });
    by("through").addEventListener("change", (event) => {
      this.solid.through = event.target.checked;
      this.solid.ask();
    });
    by("magnify").addEventListener("change", () => this.drawSections());
    by("pass").addEventListener("input", (event) => {
      this.pause();
      this.pick(Number(event.target.value));
    });
    by("travel").addEventListener("input", (event) => {
      this.pause();
      this.share = Number(event.target.value) / 1000;
      by("travel-words").textContent = this.length(this.travel ?? this.one.end);
      this.showSolid(false);
    });
    by("play").addEventListener("click", () => (this.playing ? this.pause() : this.play()));
    this.model.views.forEach(({ name, words }, k) => {
      const button = element("button", { type: "button", "aria-pressed": String(!k), "data-view": name }, words);
      button.addEventListener("click", () => this.look(name));
      by("views").append(button);
    });
    for (const name of this.live ? this.live.files : Object.keys(this.files)) by("files").append(this.download(name));
    if (this.live) {
      by("units").replaceChildren(...[["mm", "mm"], ["in", "fractions of an inch"], ["in-decimal", "decimal inches"]].map(([value, words]) => element("option", { value }, words)));
      by("units").value = this.units;
      by("units").addEventListener("change", (event) => {
        this.units = event.target.value;
        this.cut(false);
      });
    }
    document.addEventListener("keydown", (event) => this.key(event));
  }

  key(event) {
    const { target } = event;
    if (event.ctrlKey || event.metaKey || event.altKey || target.type === "text" || target.tagName === "SELECT") return;
    const view = this.model.views[Number(event.key) - 1];
    if (event.key === " " && !["BUTTON", "INPUT", "A", "SUMMARY"].includes(target.tagName)) this.playing ? this.pause() : this.play();
    else if (event.key === "PageUp") this.pick(this.number + 1);
    else if (event.key === "PageDown") this.pick(this.number - 1);
    else if (view) this.look(view.name);
    else return;
    event.preventDefault();
  }

  look(view) {
    if (!this.solid) return;
    this.solid.go(view);
    for (const button of document.querySelectorAll("#views button")) button.setAttribute("aria-pressed", String(button.dataset.view === view));
  }

  play() {
    if (this.share >= 1) this.pick(this.number % this.last % this.model.passes.length + 1, 0);
    this.playing = true;
    document.getElementById("play").textContent = "Pause";
    let before = performance.now();
    const step = (now) => {
      if (!this.playing) return;
      const share = this.share + (now - before) / 4000;
      before = now;
      if (share < 1) {
        this.share = share;
        document.getElementById("travel").value = Math.round(1000 * share);
        document.getElementById("travel-words").textContent = this.length(this.travel);
        this.showSolid(false);
      } else if (this.number < this.model.passes.length) this.pick(this.number + 1, 0);
      else {
        this.pick(this.last);
        return this.pause();
      }
      requestAnimationFrame(step);
    };
    requestAnimationFrame(step);
  }

  pause() {
    this.playing = false;
    document.getElementById("play").textContent = "Play";
  }

  download(name) {
    if (!this.live) {
      const kind = name.endsWith(".pdf") ? "application/pdf" : "application/octet-stream";
      return element("a", { class: "button", href: `data:${kind};base64,${this.files[name]}`, download: name }, name);
    }
    const button = element("button", { type: "button" }, name);
    button.addEventListener("click", async () => {
      const blob = await this.ask(`file/${name}`, { changes: this.settings.changes });
      if (!blob) return;
      const link = element("a", { href: URL.createObjectURL(blob), download: name });
      link.click();
      setTimeout(() => URL.revokeObjectURL(link.href), 10000);
    });
    return button;
  }

  // Ask for the simulation with the settings as they stand. While one is under way only the latest wish is kept.
  async cut(dragged) {
    this.wish = { dragged };
    if (this.cutting) return;
    this.cutting = true;
    while (this.wish) {
      const wish = this.wish;
      this.wish = null;
      const moment = { pass: this.number, travel: this.travel }, changes = { ...this.settings.changes };
      const reply = await this.ask("cut", { changes, ...(wish.dragged ? moment : {}) });
      if (reply) {
        this.shown = changes; // what the page shows came of these; a refused value may stand in a field since
        this.become(reply);
      }
    }
    this.cutting = false;
  }

  become(reply) {
    const blade = reply.model.blade || this.model.blade, wasLast = this.number === this.last;
    this.model = { ...reply.model, blade };
    this.number = wasLast ? this.last : Math.min(this.number, this.last);
    for (const row of reply.settings) this.settings.forget(row.key);
    this.settings.put(reply.settings);
    if (this.solid) this.solid.put(reply.model);
    this.words();
    this.redraw();
  }

  async ask(path, body) {
    let reply;
    try {
      reply = await fetch(`/${path}`, {
        method: "POST",
        headers: { "Content-Type": "application/json" },
        body: JSON.stringify({ version: this.live.version, units: this.units, ...body }),
      });
    } catch {
      this.settings.status("The program that serves this page has stopped: start it again and reload.");
      return null;
    }
    if (reply.ok) return path.startsWith("file/") ? reply.blob() : reply.json();
    const { field, sentence } = await reply.json().catch(() => ({ field: "", sentence: "The program failed to work this out; it says why where it was started." }));
    this.settings.status("");
    this.settings.refuse(field, sentence);
    return null;
  }
}

window.sweepPage = new Page(JSON.parse(document.getElementById("data").textContent));
