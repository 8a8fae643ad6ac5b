import naughty from 'big-list-of-naughty-strings' with { type: 'json' };
import { htmlEventAttributes } from 'html-event-attributes';

/**
 * Texts that try to run something in a page. Each would set `window.hit`, open a dialog or ask for something
 * from elsewhere if it ran.
 *
 * Written for these tests after the kinds of attack that the OWASP XSS Filter Evasion Cheat Sheet lists.
 */
export const PAYLOADS: readonly string[] = [
  '<script>window.hit=1</script>',
  '"><script>window.hit=1</script>',
  "'><img src=x onerror=window.hit=1>",
  '<img src=x onerror="window.hit=1">',
  '<svg onload=window.hit=1>',
  '<svg><script>window.hit=1</script></svg>',
  '<math><mtext><style><img src=x onerror=window.hit=1></style></mtext></math>',
  '<body onload=window.hit=1>',
  '<iframe src="javascript:parent.hit=1"></iframe>',
  '<iframe srcdoc="<script>parent.hit=1</script>"></iframe>',
  '<object data="javascript:window.hit=1"></object>',
  '<embed src="javascript:window.hit=1">',
  '<a href="javascript:window.hit=1" id="trap">x</a>',
  '<details open ontoggle=window.hit=1><summary>x</summary></details>',
  '<input autofocus onfocus=window.hit=1>',
  '<style>@import "javascript:window.hit=1";</style>',
  '<base href="https://example.org/">',
  '<meta http-equiv="refresh" content="0;url=javascript:window.hit=1">',
  '<form action="javascript:window.hit=1"><button id="trap">x</button></form>',
  '" onmouseover="window.hit=1" autofocus onfocus="window.hit=1" x="',
  "' onfocus='window.hit=1' autofocus='",
  '</title><script>window.hit=1</script>',
  '</textarea><script>window.hit=1</script>',
  '--><script>window.hit=1</script>',
  ']]><script>window.hit=1</script>',
  '</script><script>window.hit=1</script>',
  '\u2028window.hit=1//\u2029',
  // biome-ignore lint/suspicious/noTemplateCurlyInString: it is one of the attacks.
  '${window.hit=1}',
  '{{constructor.constructor("window.hit=1")()}}',
  '{% raw %}{{ page }}{% endraw %}',
];

/** The same in Markdown, where a link or a picture is the way in. */
export const MARKDOWN_PAYLOADS: readonly string[] = [
  ...PAYLOADS,
  '[x](javascript:window.hit=1)',
  '[x](JaVaScRiPt:window.hit=1)',
  '[x](java&#x0A;script:window.hit=1)',
  '[x](&#106;avascript:window.hit=1)',
  '[x](data:text/html;base64,PHNjcmlwdD5wYXJlbnQuaGl0PTE8L3NjcmlwdD4=)',
  '[x](vbscript:window.hit=1)',
  '[x](  javascript:window.hit=1)',
  '<javascript:window.hit=1>',
  '[x]: javascript:window.hit=1\n\n[x]',
  '![x](javascript:window.hit=1)',
  '![x](x" onerror="window.hit=1)',
  '![x" onerror="window.hit=1](photos/2026/plate.png)',
  '[x](https://example.org/"onmouseover="window.hit=1)',
  '```html"><script>window.hit=1</script>\nx\n```',
  '[^"><img src=x onerror=window.hit=1>]\n\n[^"><img src=x onerror=window.hit=1>]: x',
  '| <img src=x onerror=window.hit=1> |\n|---|\n| <svg onload=window.hit=1> |',
];

/** Drawings, styles and addresses, by which a page is led elsewhere without a script. */
const DRAWN: readonly string[] = [
  '<svg><animate onbegin=window.hit=1 attributeName=x dur=1s></svg>',
  '<svg><set attributeName=href to=javascript:window.hit=1></svg>',
  '<svg><a xlink:href="javascript:window.hit=1"><text y=9>x</text></a></svg>',
  "<svg><use href=\"data:image/svg+xml,<svg id=x xmlns='http://www.w3.org/2000/svg' onload='window.hit=1'/>#x\"></svg>",
  '<svg><image href="https://example.org/a.png"></svg>',
  '<svg><feImage href="https://example.org/a.png"></svg>',
  '<svg><foreignObject><iframe src="javascript:parent.hit=1"></iframe></foreignObject></svg>',
  '<svg><style>*{background:url(https://example.org/a)}</style></svg>',
  '<svg><handler xmlns:ev="http://www.w3.org/2001/xml-events" ev:event="load">window.hit=1</handler></svg>',
  '<p style="background:url(https://example.org/a)">x</p>',
  '<p style="width:expression(window.hit=1)">x</p>',
  '<p style="-moz-binding:url(https://example.org/x.xml#a)">x</p>',
  '<link rel=stylesheet href=https://example.org/a.css>',
  '<link rel=prefetch href=https://example.org/a>',
  '<style>@import url(https://example.org/a.css);</style>',
  '<style>*{color:red;background:url("https://example.org/a")}</style>',
  "';}body{background:url(https://example.org/a)}/*",
  '</style><style>*{background:url(//example.org/a)}</style>',
  '<img src=https://example.org/a.png>',
  '<img srcset="https://example.org/a.png 1x">',
  '<picture><source srcset=https://example.org/a.png><img alt=x></picture>',
  '<video poster=https://example.org/a.png autoplay src=https://example.org/a.mp4></video>',
  '<audio autoplay src=//example.org/a.mp3></audio>',
  '<table background=https://example.org/a.png><tr><td>x</table>',
  '<a href="https://example.org/" ping="https://example.org/ping">x</a>',
  '<a href="\tjava\tscript:window.hit=1">x</a>',
  '<portal src=https://example.org/></portal>',
  '<dialog open onclose=window.hit=1>x</dialog>',
  '<xmp><p title="</xmp><img src=x onerror=window.hit=1>">',
  '<noscript><p title="</noscript><img src=x onerror=window.hit=1>">',
  '<template><script>window.hit=1</script></template>',
  '<math><maction actiontype="statusline#javascript:window.hit=1">x</maction></math>',
  '=HYPERLINK("https://example.org/","x")',
  '@SUM(1+1)*cmd|" /C calc"!A0',
];

/** An element for each handler of an event that HTML knows, and the way out of an attribute into each. */
const HANDLERS: readonly string[] = htmlEventAttributes.flatMap((name, at) =>
  at % 2 === 0 ? [`<b tabindex=0 autofocus ${name}=window.hit=1>x</b>`] : [`" ${name}="window.hit=1" x="`],
);

/** Those of the Big List of Naughty Strings (Max Woolf, MIT) that try to run something. */
const NAUGHTY: readonly string[] = (naughty as readonly string[]).filter((text) =>
  /script|alert|on\w+\s*=|prompt|<\w/i.test(text),
);

/** Everything, from all sources, that can stand in a text of one line. */
export const CORPUS: readonly string[] = [...PAYLOADS, ...DRAWN, ...HANDLERS, ...NAUGHTY].filter(
  (text) => !/\p{Cc}/u.test(text) && text.trim() === text && text.length <= 300,
);
