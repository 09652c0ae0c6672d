// Package kerneltest gives tests what only a kernel can provide: a process with limits and mounts
// of its own, and a small disk. It is only for tests, and for Linux; a test is skipped if the
// machine allows no namespaces.
package kerneltest
