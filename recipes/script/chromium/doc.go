// Package chromium starts the browser in which tests look at pages and run their scripts. It is
// built only with the tag browser, and knows nothing of the pages.
package chromium
