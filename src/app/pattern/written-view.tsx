/** The written pattern as a sheet of paper: on the page and in print. */
import type { Section, WrittenPattern } from '../../paper/pattern/written.ts';

export function WrittenView(props: {
  readonly written: WrittenPattern;
  readonly notes: readonly string[];
  /** Heading level of the title. */
  readonly level?: 1 | 3;
}) {
  const { written, notes, level = 3 } = props;
  const Title = level === 1 ? 'h1' : 'h3';
  const Heading = level === 1 ? 'h2' : 'h4';
  return (
    <article className="written">
      <Title className="written-title">{written.title}</Title>
      {notes.length > 0 && (
        <ul className="traded">
          {notes.map((note) => (
            <li key={note}>{note}</li>
          ))}
        </ul>
      )}
      {written.sections.map((section) => (
        <section key={section.heading} data-section={section.heading}>
          <Heading>{section.heading}</Heading>
          <Lines section={section} />
        </section>
      ))}
    </article>
  );
}

function Lines({ section: { heading, lines } }: { readonly section: Section }) {
  if (heading === 'Abbreviations') {
    return (
      <dl className="written-words">
        {lines.map((line) => {
          const [name, words] = split(line);
          return (
            <div key={line}>
              <dt>{name}</dt>
              <dd>{words}</dd>
            </div>
          );
        })}
      </dl>
    );
  }
  if (heading === 'Pattern') {
    return (
      <div className="written-rounds">
        {numbered(lines).map(({ key, line }) => {
          const label = /^((?:Sizes? [^:]* only: )?(?:Rounds?|Rows?|Next)\b[^:]*:)(.*)$/.exec(line);
          return (
            <p key={key} className="written-round">
              {label ? (
                <>
                  <b>{label[1]}</b>
                  {label[2]}
                </>
              ) : (
                line
              )}
            </p>
          );
        })}
      </div>
    );
  }
  return (
    <>
      {numbered(lines).map(({ key, line }) => (
        <p key={key} className="written-line">
          {line}
        </p>
      ))}
    </>
  );
}

/** Lines may repeat; their place tells them apart. */
function numbered(lines: readonly string[]) {
  return lines.map((line, place) => ({ key: `${place}:${line}`, line }));
}

function split(line: string): [string, string] {
  const at = line.indexOf(': ');
  return at < 0 ? [line, ''] : [line.slice(0, at), line.slice(at + 2)];
}
