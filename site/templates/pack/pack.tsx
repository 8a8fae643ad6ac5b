import type { ComponentChildren, VNode } from 'preact';
import type { PackView } from '../../../src/render/pack/view.js';
import { CautionList, Entries, HowToRead, Instruments, People, Seal, Standards } from './back.js';
import { Front } from './front.js';
import { Changes, Claimed, Drifts, DueLists, FindingLists, NotLookedAt, Resting } from './lists.js';
import { PowerPlan, WeightsPlan } from './plans.js';
import { SystemPart } from './system.js';
import { PartHeading } from './table.js';

/** The pack: the whole record for somebody who has no reason to trust it, made for paper. */
export function Pack({ view, prose }: { view: PackView; prose: ReadonlyMap<string, string> }): VNode {
  const contents: Readonly<Record<string, () => ComponentChildren>> = {
    findings: () => <FindingLists view={view} />,
    claimed: () => <Claimed rows={view.claimed} />,
    resting: () => <Resting rows={view.resting} />,
    unknown: () => <NotLookedAt unknown={view.unknown} />,
    drift: () => <Drifts drift={view.drift} />,
    due: () => <DueLists due={view.due} />,
    changes: () => <Changes changes={view.changes} />,
    power: () => view.power !== null && <PowerPlan power={view.power} />,
    weights: () => view.weights !== null && <WeightsPlan weights={view.weights} />,
    people: () => <People view={view} />,
    instruments: () => <Instruments view={view} />,
    standards: () => <Standards view={view} />,
    cautions: () => <CautionList cautions={view.cautions} />,
    reading: () => <HowToRead />,
    entries: () => <Entries view={view} prose={prose} />,
    seal: () => <Seal seal={view.seal} />,
  };
  return (
    <>
      <Front view={view} />
      {view.sections.map(({ place, number, title, parts }) =>
        place === 'systems' ? (
          view.systems.map((system, index) => (
            <SystemPart
              system={system}
              number={parts[index]?.number ?? ''}
              html={prose.get(`system-${system.id}`) ?? ''}
              before={index === 0 ? <PartHeading id={place} number={number} title={title} /> : null}
            />
          ))
        ) : (
          <section class={`part ${place}`}>
            <PartHeading id={place} number={number} title={title} />
            {contents[place]?.()}
          </section>
        ),
      )}
    </>
  );
}
