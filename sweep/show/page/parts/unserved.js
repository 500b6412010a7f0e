// In the place of what only a page that is served does: a page that is sent asks nobody, and nothing is changed on it.

export class Served {
  constructor() {
    throw new Error("this page is not served");
  }
}
