//go:build browser

package main

// oneOfEachColour has axe-core's rule of contrast look at one or two texts of each way in which
// text is coloured on a page, where a table may hold hundreds of one way: finding what lies
// behind a text takes axe-core more than all its other rules together. Two texts are of one way
// where everything that contrast is worked out from is alike, for them and for all that they
// are in. What is not laid out in the flow of the page may lie over or under anything, so
// texts are held alike only within the same one such element. Of each way the first and the
// longest is asked, since axe-core gives no verdict on a single sign. What holds text otherwise,
// as fields do, is always asked, and so is all in a tree of its own, as the preview's panel is.
// unasked takes the marks away again.
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
	axe.configure({rules: [{id: 'color-contrast', selector: '[data-asked]'}]});
	return held.size;
})()`
