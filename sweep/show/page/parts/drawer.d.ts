// What the program puts into the page of a folder of profiles: the shapes of `page/drawer.py`.

export interface BladeRow {
  blade: string;
  shown: string[]; // in the order of the figures' names
  values: (number | null)[]; // the same as numbers, to sort by
  within: boolean | null;
  flags: string[] | null; // null where the set-up was not planned
  reason: string;
}

export interface Profile {
  name: string;
  box: string; // of its drawing; empty where there is none
  lines: Record<string, string>; // as paths of SVG
  rows: BladeRow[];
  alike: string[];
  scene: string; // as a file has it; empty where none was found
  file: string | null; // what that is called
  is: string[]; // what may be asked for of which it is
}

export interface Shop {
  figures: string[];
  beside: boolean; // whether the files of scenes stand beside the page
  profiles: Profile[];
}
