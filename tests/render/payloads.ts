/**
 * Texts that try to run something in a page. Written for these tests after the kinds of attack that the OWASP
 * XSS Filter Evasion Cheat Sheet lists. Each would set `window.hit` if it ran.
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
