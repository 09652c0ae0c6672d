// Package chromium starts the browser in which tests look at pages and run their scripts. It
// is built with the tag browser alone, and knows nothing of what is looked at.
package chromium
