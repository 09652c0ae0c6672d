package source

import (
	"fmt"
	"path"
	"strings"
)

// What is said of pages, links and files beside one another.

// NotAnAddress is said of an address that is none.
func NotAnAddress(text string) Problem {
	return fault("not-an-address", fmt.Sprintf("%q is no address of a site", text), "Write it in full, such as https://lab.example/guides/.")
}

// PageTooLarge is said of a page's file beyond its bound.
func PageTooLarge(bytes int64) Problem {
	return fault("page-too-large", fmt.Sprintf("this page has %d bytes; a page has less than 1 MiB (1,048,576)", bytes), "Split it into several pages.")
}

// LinkOutside is said of a symbolic link that leads out of the content folder.
func LinkOutside() Problem {
	return fault("link-outside", "this symbolic link leads out of the content folder", "Put the file itself here.")
}

// LinkToFolder is said of a symbolic link to a folder.
func LinkToFolder() Problem {
	return fault("link-to-folder", "this symbolic link leads to a folder", "Put the files themselves here; a folder would be read twice.")
}

// LinkToNoFile is said of a symbolic link whose file is not there, or that leads round in a
// circle.
func LinkToNoFile() Problem {
	return fault("link-to-no-file", "this symbolic link leads to no file", "Make the link again, or put the file itself here.")
}

// CannotRead is said of a file that the system does not give.
func CannotRead(why string) Problem {
	return fault("cannot-read", "this cannot be read: "+why, "Look at the file's permissions.")
}

// NoContent is said of a content folder that is not there.
func NoContent(dir, why string) Problem {
	return fault("no-content", fmt.Sprintf("the content folder %s cannot be read: %s", dir, why), "Name the folder with --from, or go to the folder above it.")
}

// NoPages is said of a content folder without a page.
func NoPages() Problem {
	return fault("no-pages", "there is no page in the content folder", "Write one: a Markdown file that begins with front matter.")
}

// OwnFile is said of a page or a picture at an address that the site needs for a file
// that it makes by itself, such as the page for addresses that are not there.
func OwnFile(address string) Problem {
	return fault("own-file", "the site makes a file "+address+" of its own", "Give this file another name.")
}

// SameAddress is said of two pages that would stand at one address.
func SameAddress(other string) Problem {
	return fault("same-address", "this page would stand at the same address as "+other, "Rename one of the two; capital and small letters count as one.").
		alsoLine(other, 1, "the other page")
}

// SameNumber is said of two pages with one document number.
func SameNumber(number, other string) Problem {
	return fault("same-number", fmt.Sprintf("the document number %s is already that of %s", number, other), "Give each page its own number.").
		alsoLine(other, 1, "the other page")
}

// LinkNowhere is said of a link whose file is not there.
func LinkNowhere(to, nearest string) Problem {
	hint := "Paths are relative to this page."
	if nearest != "" {
		hint = "Did you mean " + nearest + "?"
		if strings.EqualFold(path.Base(to), path.Base(nearest)) && path.Base(to) != path.Base(nearest) {
			hint = fmt.Sprintf("There is %s; capital and small letters make different names.", nearest)
		}
	}
	return fault("link-nowhere", fmt.Sprintf("there is no file %s", to), hint).offering(nearest)
}

// AnchorNowhere is said of a link to a heading that is not there.
func AnchorNowhere(anchor, page, nearest string) Problem {
	hint := "An anchor is the heading in small letters with hyphens for blanks."
	if nearest != "" {
		hint = "Did you mean #" + nearest + "?"
	}
	return fault("anchor-nowhere", fmt.Sprintf("%s has no heading #%s", page, anchor), hint)
}

// LinkAbsolute is said of a link that begins with a slash.
func LinkAbsolute(to string) Problem {
	return fault("link-absolute", fmt.Sprintf("%s starts at the top of a server, and a site can stand anywhere", to), "Write it relative to this page, such as ../mixing/index.md.")
}

// PathOutside is said of a path that leaves the content folder.
func PathOutside(to string) Problem {
	return fault("path-outside", fmt.Sprintf("%s leads out of the content folder", to), "Keep files inside it.")
}

// LinkToStaff is said of a customers' page that leads to a staff page.
func LinkToStaff(to string) Problem {
	return fault("link-to-staff", fmt.Sprintf("%s is for staff, and this page is for customers", to), "Take the link away, or make this page a staff page.")
}

// LinkToUnpublished is said of a published page that leads to a draft or withdrawn one.
func LinkToUnpublished(to, status string) Problem {
	return fault("link-to-unpublished", fmt.Sprintf("%s is %s and not to be linked to from a published page", to, status), "Take the link away, or approve that page first.")
}

// NameMeant is said of a file that is passed by for its name.
func NameMeant(name string) Problem {
	return remark("name-meant", "nothing is read from this file, because of its name", "If it belongs to the site, call it "+name+".")
}

// NameSign is said of a published file whose name holds a sign that some disk or address does
// not take.
func NameSign(sign string) Problem {
	return fault("name-sign", "the name of this file or folder holds "+sign+", which not every disk and address takes", "Rename it with letters, digits, hyphens and full stops.")
}

// NameEnds is said of a name with a blank at either end, or a full stop at its end.
func NameEnds() Problem {
	return fault("name-ends", "the name of this file or folder begins or ends with a blank, or ends with a full stop, which some disks drop", "Rename it without.")
}

// NameOfDevice is said of a name that Windows keeps for a device.
func NameOfDevice(name string) Problem {
	return fault("name-of-device", name+" is the name of a device on Windows, so the site could not be kept there", "Give it another name.")
}

// NameTooLong is said of a name of more bytes than every disk takes.
func NameTooLong(n, most int) Problem {
	return fault("name-too-long", fmt.Sprintf("the name of this file or folder has %d bytes; a published one has at most %d", n, most), "Give it a shorter name.")
}

// SameFolder is said of a page in a folder whose name differs from another's in capitals or in
// how accents are written alone.
func SameFolder(folder, other string) Problem {
	return fault("same-folder", "the folders "+folder+" and "+other+" differ in capital letters or in how accents are written alone, and some disks make one of them", "Rename one of the two.")
}
