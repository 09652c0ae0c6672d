// Package kerneltest gives tests what only a kernel can show: a process with limits and mounts
// of its own, and a small disk. It is only for tests, and for Linux; a test skips where the
// machine gives no namespace.
package kerneltest
