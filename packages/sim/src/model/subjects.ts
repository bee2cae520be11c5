import type { Subject } from "./result.ts";

/** Numbers for the parts that log events, so that devices know no names of the outside. */
export class Subjects {
  private readonly list: Subject[] = [];

  add(part: Subject["part"], owner = ""): number {
    return this.list.push({ part, owner }) - 1;
  }

  get(id: number): Subject {
    return this.list[id];
  }
}
