// A button that wants to be held for a second, by finger, by mouse or by the space bar: nothing quick gets past it.

const LONG = 1000; // milliseconds

export class Hold {
  timer = 0;

  /**
   * @param {HTMLElement} button
   * @param {() => boolean} wanted Whether it waits to be held now.
   * @param {() => void} held
   */
  constructor(button, wanted, held) {
    this.button = button;
    this.wanted = wanted;
    this.held = held;
    button.addEventListener("pointerdown", (event) => {
      if (event.button === 0) this.begin();
    });
    for (const ends of ["pointerup", "pointerleave", "pointercancel"]) button.addEventListener(ends, () => this.end());
    button.addEventListener("contextmenu", (event) => event.preventDefault());
    document.addEventListener("keydown", (event) => {
      if (event.key !== " " || !this.wanted()) return;
      event.preventDefault();
      if (!event.repeat) this.begin();
    });
    document.addEventListener("keyup", () => this.end());
    window.addEventListener("blur", () => this.end());
    document.addEventListener("visibilitychange", () => this.end());
  }

  begin() {
    if (!this.wanted()) return;
    this.end();
    this.button.classList.add("held");
    this.timer = setTimeout(() => {
      this.end();
      if (this.wanted()) this.held();
    }, LONG);
  }

  end() {
    clearTimeout(this.timer);
    this.button.classList.remove("held");
  }
}
