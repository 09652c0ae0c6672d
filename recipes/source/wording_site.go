package source

import (
	"fmt"
	"path"
	"strings"
)

// Messages about pages, links and files beside one another.

// NotAnAddress reports something that is not an address.
func NotAnAddress(text string) Problem {
	return fault("not-an-address", fmt.Sprintf("%q is not the address of a site", text), "Write it in full, such as https://lab.example/guides/.")
}

// PageTooLarge reports a page's file beyond its bound.
func PageTooLarge(bytes int64) Problem {
	return fault("page-too-large", fmt.Sprintf("this page has %d bytes; a page must have less than 1 MiB (1,048,576)", bytes), "Split it into several pages.")
}

// LinkOutside reports a symbolic link that leads out of the content folder.
func LinkOutside() Problem {
	return fault("link-outside", "this symbolic link leads out of the content folder", "Put the file itself here.")
}

// LinkToFolder reports a symbolic link to a folder.
func LinkToFolder() Problem {
	return fault("link-to-folder", "this symbolic link leads to a folder", "Put the files themselves here; the folder would be read twice.")
}

// LinkToNoFile reports a symbolic link whose file is not there, or that leads round in a
// circle.
func LinkToNoFile() Problem {
	return fault("link-to-no-file", "this symbolic link leads to no file", "Make the link again, or put the file itself here.")
}

// CannotRead reports a file that the system will not let us read.
func CannotRead(why string) Problem {
	return fault("cannot-read", "this cannot be read: "+why, "Look at the file's permissions.")
}

// NoContent reports a content folder that is not there.
func NoContent(dir, why string) Problem {
	return fault("no-content", fmt.Sprintf("the content folder %s cannot be read: %s", dir, why), "Name the folder with --from, or run the command from the folder above it.")
}

// NoPages reports a content folder without a page.
func NoPages() Problem {
	return fault("no-pages", "there is no page in the content folder", "Write one: a Markdown file that begins with front matter.")
}

// OwnFile reports a page or a picture at an address that the site needs for a file
// that it makes by itself, such as the page for addresses that are not there.
func OwnFile(address string) Problem {
	return fault("own-file", "the site makes a file "+address+" itself", "Give this file another name.")
}

// SameAddress reports two pages that would have the same address.
func SameAddress(other string) Problem {
	return fault("same-address", "this page would have the same address as "+other, "Rename one of the two; capital and small letters count as the same.").
		alsoLine(other, 1, "the other page")
}

// SameNumber reports two pages with one document number.
func SameNumber(number, other string) Problem {
	return fault("same-number", fmt.Sprintf("the document number %s is already that of %s", number, other), "Give each page its own number.").
		alsoLine(other, 1, "the other page")
}

// LinkNowhere reports a link whose file is not there.
func LinkNowhere(to, nearest string) Problem {
	hint := "Paths are relative to this page."
	if nearest != "" {
		hint = "Did you mean " + nearest + "?"
		if strings.EqualFold(path.Base(to), path.Base(nearest)) && path.Base(to) != path.Base(nearest) {
			hint = fmt.Sprintf("There is %s; capital and small letters matter in names.", nearest)
		}
	}
	return fault("link-nowhere", fmt.Sprintf("there is no file %s", to), hint).offering(nearest)
}

// AnchorNowhere reports a link to a heading that is not there.
func AnchorNowhere(anchor, page, nearest string) Problem {
	hint := "An anchor is the heading in lower case with hyphens for spaces."
	if nearest != "" {
		hint = "Did you mean #" + nearest + "?"
	}
	return fault("anchor-nowhere", fmt.Sprintf("%s has no heading #%s", page, anchor), hint)
}

// LinkAbsolute reports a link that begins with a slash.
func LinkAbsolute(to string) Problem {
	return fault("link-absolute", fmt.Sprintf("%s starts at the top of the server, but the site may be published in a folder below it", to), "Write it relative to this page, such as ../mixing/index.md.")
}

// PathOutside reports a path that leaves the content folder.
func PathOutside(to string) Problem {
	return fault("path-outside", fmt.Sprintf("%s leads out of the content folder", to), "Keep files inside it.")
}

// LinkToStaff reports a customers' page that leads to a staff page.
func LinkToStaff(to string) Problem {
	return fault("link-to-staff", fmt.Sprintf("%s is for staff, and this page is for customers", to), "Remove the link, or make this page a staff page.")
}

// LinkToUnpublished reports a published page that leads to a draft or withdrawn one.
func LinkToUnpublished(to, status string) Problem {
	return fault("link-to-unpublished", fmt.Sprintf("%s is %s, so a published page may not link to it", to, status), "Remove the link, or approve that page first.")
}

// NameMeant reports a file that is ignored because of its name.
func NameMeant(name string) Problem {
	return remark("name-meant", "this file is ignored because of its name", "If it belongs to the site, call it "+name+".")
}

// NameSign reports a published file whose name contains a character that some disk or address
// does not take.
func NameSign(sign string) Problem {
	return fault("name-sign", "the name of this file or folder contains "+sign+", which not every disk and address takes", "Rename it with letters, digits, hyphens and full stops.")
}

// NameEnds reports a name with a space at either end, or a full stop at its end.
func NameEnds() Problem {
	return fault("name-ends", "the name of this file or folder begins or ends with a space, or ends with a full stop, which some disks drop", "Rename it without.")
}

// NameOfDevice reports a name that Windows keeps for a device.
func NameOfDevice(name string) Problem {
	return fault("name-of-device", name+" is the name of a device on Windows, so the site could not be kept there", "Give it another name.")
}

// NameTooLong reports a name longer than some disks allow.
func NameTooLong(n, most int) Problem {
	return fault("name-too-long", fmt.Sprintf("the name of this file or folder has %d bytes; a published one has at most %d", n, most), "Give it a shorter name.")
}

// SameFolder reports a page in a folder whose name differs from another's only in capitals or
// in how accents are written.
func SameFolder(folder, other string) Problem {
	return fault("same-folder", "the folders "+folder+" and "+other+" differ only in capital letters or in how accents are written, and some disks treat them as one", "Rename one of the two.")
}
