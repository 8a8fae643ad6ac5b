/**
 * What the server adds to pages, at addresses of its own, since the pages' policy lets nothing inline run.
 * The listening ends while a page is out of sight: browsers hold no more than six connections to one host,
 * and a seventh page would wait for ever.
 */

export const SCRIPT_PATH = '__ribband/live.js';
export const STYLE_PATH = '__ribband/live.css';
export const EVENTS_PATH = '__ribband/events';

export const SCRIPT = `(function () {
  var shown = document.currentScript.dataset.state;
  var source = null;
  function listen() {
    if (source !== null || document.hidden) return;
    source = new EventSource('/${EVENTS_PATH}');
    source.addEventListener('state', function (event) {
      if (event.data !== shown) location.reload();
    });
  }
  function rest() {
    if (source !== null) source.close();
    source = null;
  }
  document.addEventListener('visibilitychange', function () {
    if (document.hidden) rest();
    else listen();
  });
  window.addEventListener('pagehide', rest);
  window.addEventListener('pageshow', listen);
  listen();
})();
`;

export const STYLE = `.ribband-live {
  position: sticky; top: 0; z-index: 1000; max-height: 60vh; overflow: auto;
  font: 15px/1.45 system-ui, sans-serif; color: #1d1512; background: #fff4ef;
  border-bottom: 4px solid #b3261e; padding: 0.6rem 1rem; text-align: left;
}
/* Warnings can be there for months: they do not stay in view. */
.ribband-live.warnings { position: static; background: #fff9e5; border-bottom-color: #8a6100; }
.ribband-live summary { color: inherit; font-weight: 700; cursor: pointer; min-height: 24px; }
.ribband-live ol { margin: 0.6rem 0 0; padding: 0; list-style: none; }
.ribband-live li { margin: 0 0 0.9rem; max-width: 60rem; }
.ribband-live p { margin: 0.1rem 0; max-width: none; }
.ribband-live code, .ribband-live pre { font: 13px/1.5 ui-monospace, monospace; color: inherit; background: none; }
.ribband-live pre { margin: 0.2rem 0; padding: 0.3rem 0.6rem; overflow-x: auto; background: #ffffffb0; border: 0; }
.ribband-live mark { color: inherit; background: #ffc7bd; text-decoration: underline wavy #b3261e; }
.ribband-plain { margin: 0; font: 17px/1.5 system-ui, sans-serif; }
.ribband-plain > h1, .ribband-plain > p { margin: 1.5rem 1rem; }
.ribband-live .where { font-weight: 700; overflow-wrap: anywhere; }
@media (prefers-color-scheme: dark) {
  .ribband-live { color: #f4e4de; background: #3a1a15; border-bottom-color: #ff8a7a; }
  /* Warnings can be there for months: they do not stay in view. */
.ribband-live.warnings { position: static; background: #33290f; border-bottom-color: #e0b040; }
  .ribband-live pre { background: #00000050; }
  .ribband-live mark { background: #7a2c22; text-decoration-color: #ff8a7a; }
}
@media print { .ribband-live { display: none; } }
`;
