package approve

import (
	"context"
	"fmt"
	"strings"
	"time"

	"labsite/recipes/approval"
	"labsite/recipes/page"
	"labsite/recipes/source"
	"labsite/render/build"
	"labsite/render/content"
)

// Proposal is what an approval would write.
type Proposal struct {
	Record *approval.Record
	// Before is the record of the revision before, nil if there is none.
	Before *approval.Record
	// Changed is what differs from Before, numbers first.
	Changed []approval.Difference
	// There says that the record exists already, with the same contents.
	There bool
}

// Refusal is why a page cannot be approved as it is.
type Refusal struct{ Why string }

// Error is the reason.
func (r *Refusal) Error() string { return r.Why }

func refuse(format string, of ...any) error { return &Refusal{fmt.Sprintf(format, of...)} }

// Open reads a content folder to approve a page of it, with drafts and waiting revisions. See
// build.Open for the list.
func Open(ctx context.Context, dir string, day time.Time) (*build.Site, source.List) {
	return build.Open(ctx, dir, build.Options{Day: day, Unwritten: true, Drafts: true})
}

// Propose makes the record of a page that the role by would approve on the day of the site. The
// list is what is wrong with the page; if it holds an error, or the error is set, there is no
// proposal.
func Propose(site *build.Site, p *content.Page, by string) (*Proposal, source.List, error) {
	if err := mayApprove(p, by); err != nil {
		return nil, nil, err
	}
	desk := site.Desk()
	full := desk.Make(p)
	list := site.PageList(desk, p)
	if list.Errors() > 0 || desk.Ended() {
		return nil, list, nil
	}
	if !full.Trusted() || full.Proof == nil {
		return nil, list, refuse("%s is not worked out: something that all pages depend on has errors", p.Path)
	}
	k := full.Sheet.Control
	out := &Proposal{Record: desk.Record(full, by, site.Content.Day), Before: full.Standard.Before, Changed: full.Standard.Changed}
	if out.Record == nil {
		return nil, list, nil // the work was cancelled
	}
	if last := lastOf(site.Content.Revisions(k.Number)); last > k.Revision {
		return nil, list, refuse("revision %d of %s is already recorded, and the page is only revision %d; raise it above %d", last, k.Number, k.Revision, last)
	}
	if r := full.Standard.Record; r != nil {
		if len(full.Standard.Differs) > 0 {
			return nil, list, refuse("revision %d of %s was approved on %s by the %s, and the page now differs from it: %s. Raise the revision, or undo the change",
				k.Revision, k.Number, r.Approved, r.By, firstOf(full.Standard.Differs))
		}
		out.There = true
	}
	return out, list, nil
}

// mayApprove refuses a page that cannot be approved, or not by this role.
func mayApprove(p *content.Page, by string) error {
	if p.Head == nil || p.Head.Control == nil {
		return refuse("%s has no document control: give it control: with number, revision and status", p.Path)
	}
	k := p.Head.Control
	switch {
	case strings.TrimSpace(by) == "":
		return refuse("--by is empty; name the role that approves")
	case sameRole(by, k.Owner):
		return refuse("the %s owns %s; somebody else has to approve it", k.Owner, k.Number)
	case k.Status == page.Draft:
		return refuse("%s is a draft; write status: approved, with approved_by and approved, first", p.Path)
	case k.Status != page.Approved:
		return refuse("%s is %s, and only a page in force is approved", p.Path, k.Status)
	case !sameRole(by, k.ApprovedBy):
		return refuse("%s says approved_by: %s, and --by says %s; one of the two is wrong", p.Path, k.ApprovedBy, by)
	}
	return nil
}

func sameRole(a, b string) bool {
	even := func(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }
	return even(a) == even(b)
}

func lastOf(revisions []int) int {
	if len(revisions) == 0 {
		return -1
	}
	return revisions[len(revisions)-1]
}

func firstOf(list []approval.Difference) string {
	d := list[0]
	if d.Kind == approval.OfNumber {
		return d.Name + " was " + d.Before + " and is " + d.After
	}
	return "a " + string(d.Kind) + " differs"
}
