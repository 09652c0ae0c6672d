//go:build browser

package main

// oneOfEachColour limits axe-core's contrast rule to one or two texts for each way in which text is
// coloured on a page, since a table may have hundreds of texts coloured the same way and finding
// what is behind each takes axe-core longer than all its other rules together. Two texts are
// coloured the same way if everything that contrast depends on is the same, for them and for all
// elements around them. An element outside the flow of the page may lie over or under anything, so
// texts count as the same only within one such element. For each way the first and the longest text
// are checked, since axe-core does not judge a single character. Text in fields and the like is
// always checked, and so is everything in a shadow tree, such as the preview's panel. unasked
// removes the marks again.
const oneOfEachColour = `(() => {
	const ways = new Map(), of = new Map(), held = new Map();
	const way = (e) => {
		if (!e) return 0;
		if (of.has(e)) return of.get(e);
		const s = getComputedStyle(e), loose = s.position !== 'static' && s.position !== 'relative' || s.transform !== 'none' || s.float !== 'none';
		const key = [way(e.parentElement), e.localName, e.matches(':disabled, [aria-disabled=true], [inert]') || !!e.control?.disabled, s.color, s.backgroundColor, s.backgroundImage, s.opacity,
			s.fontSize, s.fontWeight, s.filter, s.mixBlendMode, s.textShadow, s.clipPath, s.zIndex, s.position, loose ? of.size : ''].join('|');
		if (!ways.has(key)) ways.set(key, ways.size + 1);
		of.set(e, ways.get(key));
		return ways.get(key);
	};
	for (const e of document.querySelectorAll('body, body *')) {
		for (const inside of e.shadowRoot?.querySelectorAll('*') ?? []) inside.setAttribute('data-asked', '');
		if (e.matches('input, select, textarea, option')) {
			e.setAttribute('data-asked', '');
			continue;
		}
		const text = [...e.childNodes].filter(n => n.nodeType === 3).map(n => n.data.trim()).join('');
		if (!text || !e.checkVisibility({visibilityProperty: true, opacityProperty: true})) continue;
		const known = held.get(way(e));
		if (!known) held.set(way(e), [e, e, text.length]);
		else if (text.length > known[2]) held.set(way(e), [known[0], e, text.length]);
	}
	for (const [first, longest] of held.values()) {
		first.setAttribute('data-asked', '');
		longest.setAttribute('data-asked', '');
	}
	window.unasked = () => {
		for (const root of [document, ...[...document.querySelectorAll('*')].map(e => e.shadowRoot).filter(r => r)])
			for (const e of root.querySelectorAll('[data-asked]')) e.removeAttribute('data-asked');
	};
	axe.configure({noHtml: true, rules: [{id: 'color-contrast', selector: '[data-asked]'}]});
	return held.size;
})()`
