/**
 * Two tabs changed one project: what both did, together.
 * In: the project as both knew it, and what each made of it. Out: a project that has every square and test knit of either;
 * where both changed the same one, both are kept. Pure.
 */
import type { Project } from '../../paper/project-file.ts';

interface Entry {
  readonly id: string;
}

const same = (a: unknown, b: unknown) => a === b || JSON.stringify(a) === JSON.stringify(b);

export function mergeProjects(base: Project, mine: Project, theirs: Project): Project {
  if (mine === base || same(mine, base)) return theirs;
  if (same(theirs, base)) return mine;
  const plans = mergeLists(base.plans, mine.plans, theirs.plans, 'square');
  const testKnits = mergeLists(base.testKnits, mine.testKnits, theirs.testKnits, 'knit');
  const either = <K extends 'title' | 'units' | 'terms'>(key: K): Project[K] =>
    mine[key] === base[key] ? theirs[key] : mine[key];
  const ids = new Set(plans.list.map(({ id }) => id));
  const laid = same(mine.blanket, base.blanket) ? theirs.blanket : renamed(mine, plans.renamed);
  return {
    ...theirs,
    title: either('title'),
    units: either('units'),
    terms: either('terms'),
    plans: plans.list,
    testKnits: testKnits.list,
    open: theirs.open !== null && ids.has(theirs.open) ? theirs.open : null,
    blanket: {
      ...laid,
      rows: laid.rows.map((row) => row.map((id) => (id !== null && ids.has(id) ? id : null))),
    },
  };
}

function renamed({ blanket }: Project, names: ReadonlyMap<string, string>): Project['blanket'] {
  return {
    ...blanket,
    rows: blanket.rows.map((row) => row.map((id) => (id === null ? null : (names.get(id) ?? id)))),
  };
}

/** `renamed`: entries of mine that had to take another id, because theirs has it for something else. */
function mergeLists<E extends Entry>(
  base: readonly E[],
  mine: readonly E[],
  theirs: readonly E[],
  stem: string,
): { readonly list: E[]; readonly renamed: ReadonlyMap<string, string> } {
  const before = new Map(base.map((entry) => [entry.id, entry]));
  const own = new Map(mine.map((entry) => [entry.id, entry]));
  const taken = new Set([...own.keys(), ...theirs.map(({ id }) => id)]);
  const list: E[] = [];
  const copies: E[] = [];
  const names = new Map<string, string>();
  for (const other of theirs) {
    const was = before.get(other.id);
    const now = own.get(other.id);
    own.delete(other.id);
    if (!now) {
      // Taken away here: only if nobody changed it there.
      if (!was || !same(other, was)) list.push(other);
    } else if (same(now, other) || (was && same(now, was))) list.push(other);
    else if (was && same(other, was)) list.push(now);
    else {
      list.push(other);
      let n = 1;
      while (taken.has(`${stem}-${n}`)) n++;
      const id = `${stem}-${n}`;
      taken.add(id);
      names.set(now.id, id);
      copies.push({ ...now, id });
    }
  }
  for (const now of own.values()) {
    const was = before.get(now.id);
    if (!was || !same(now, was)) list.push(now);
  }
  return { list: [...list, ...copies], renamed: names };
}
