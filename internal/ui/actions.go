package ui

import (
	"slices"

	"fitup/internal/ui/action"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/pane/drawing"
)

// Actions of the bench itself; those of panes are in package pane.
const (
	actNextPane    action.ID = "focus.next"
	actPrevPane    action.ID = "focus.previous"
	actZoom        action.ID = "pane.zoom"
	actStepSmaller action.ID = "step.smaller"
	actStepLarger  action.ID = "step.larger"
	actUndo        action.ID = "edit.undo"
	actRedo        action.ID = "edit.redo"
	actSave        action.ID = "file.save"
	actSaveAs      action.ID = "file.save_as"
	actQuit        action.ID = "bench.quit"
	actHelp        action.ID = "bench.help"
	actSearch      action.ID = "bench.palette"
	actFindings    action.ID = "findings.list"
	actInFull      action.ID = "row.in_full"
	actTrail       action.ID = "edit.trail"
	actWalk        action.ID = "bench.walk"
	actMessages    action.ID = "bench.messages"
	actPrint       action.ID = "book.print"
	actWatch       action.ID = "findings.watch"
	actLarge       action.ID = "reading.large"
	actPropose     action.ID = "propose.open"
	actProposeGo   action.ID = "propose.search"
	actProposeTry  action.ID = "propose.try"
	actProposeData action.ID = "propose.asked"
	actProposeKeep action.ID = "propose.keep"
	actProposeJobs action.ID = "propose.jobs"
	actProposeDrop action.ID = "propose.drop"
	actProposeNext action.ID = "propose.next_reading"
	actTrials      action.ID = "trials.open"

	actProposeTrials action.ID = "propose.trials"

	actFit     action.ID = "survey.stop"
	actJobAdd  action.ID = "job.add"
	actJobList action.ID = "job.list"
	actDoneTo  action.ID = "job.done_to"
	actEngine  action.ID = "powertrain.standing"
	actShake   action.ID = "vibration.find"
	actMeasure action.ID = "measure.add"
	actTape    action.ID = "measure.frame"

	actRound      action.ID = "round.open"
	actRoundOn    action.ID = "round.surface"
	actRoundAfter action.ID = "round.after"
	actRoundStood action.ID = "round.stood"
	actRoundPlace action.ID = "round.place"
	actRoundEach  action.ID = "round.each"
	actRoundDrop  action.ID = "round.drop"

	actData       action.ID = "data.page"
	actDataHere   action.ID = "data.here"
	actDataAdd    action.ID = "data.add"
	actDataCopy   action.ID = "data.copy"
	actDataClear  action.ID = "data.clear"
	actDataRemove action.ID = "data.remove"
	actDataUp     action.ID = "data.up"
	actDataDown   action.ID = "data.down"
	actDataRename action.ID = "data.rename"
	actDataMirror action.ID = "data.other_side"
	actDataNext   action.ID = "data.missing"
)

// proposalActions are those of the box of proposals and of what opens from it.
func proposalActions() []action.Action {
	return []action.Action{
		{ID: actPropose, Scope: action.Everywhere, Keys: []string{"L"}, Label: "proposals", Help: "Look for what to move and by how much so that all holds, beside the screen; show what was found."},
		{ID: actProposeGo, Scope: scopePropose, Keys: []string{"g"}, Label: "search", Help: "Search the places that the file lets things move to, or stop that."},
		{ID: actProposeTry, Scope: scopePropose, Keys: []string{"t"}, Label: "try", Help: "Move what the proposal under the cursor moves; undo takes it back."},
		{ID: actProposeData, Scope: scopePropose, Keys: []string{"e"}, Label: "what may move", Help: "Say what may move, how far, in which steps, by which work, and what must hold; once more for the same on the data page."},
		{ID: actProposeKeep, Scope: scopePropose, Keys: []string{"a"}, Label: "keep as a trial", Help: "Keep the proposal under the cursor in the file, as a trial of a name."},
		{ID: actProposeJobs, Scope: scopePropose, Keys: []string{"J"}, Label: "write as jobs", Help: "Put what the proposal under the cursor does into the job list, before the first job that is open."},
		{ID: actProposeTrials, Scope: scopePropose, Keys: []string{"T"}, Label: "trials", Help: "Show the trials of the file side by side: Left and Right choose one, Enter adopts it."},
		{ID: actProposeNext, Scope: scopePropose, Keys: []string{"m"}, Label: "measure next", Help: "Weigh beside the screen which further reading or tape measure takes most off the chance of a wrong weld."},
		{ID: actProposeDrop, Scope: scopePropose, Keys: []string{"x", "delete"}, Label: "take out", Help: "Take the trial under the cursor out of the file."},
		{ID: actTrials, Scope: action.Everywhere, Label: "trials side by side", Help: "Show the named alternatives of the file side by side, and adopt one."},
	}
}

// Actions returns the one table of what every key does.
func Actions() (*action.Table, error) {
	return action.New(slices.Concat([]action.Action{
		{ID: pane.Up, Scope: action.Everywhere, Keys: []string{"up", "k"}, Label: "up", Help: "Move the cursor up."},
		{ID: pane.Down, Scope: action.Everywhere, Keys: []string{"down", "j"}, Label: "down", Help: "Move the cursor down."},
		{ID: pane.Less, Scope: action.Everywhere, Keys: []string{"left", "-"}, Label: "one step less", Help: "On the placement page of Mounts, move the row under the cursor by one step down, left or forward; in Driveline, show the line before."},
		{ID: pane.More, Scope: action.Everywhere, Keys: []string{"right", "+", "="}, Label: "one step more", Help: "On the placement page of Mounts, move the row under the cursor by one step up, right or rearward; in Driveline, show the next line."},
		{ID: pane.Enter, Scope: action.Everywhere, Keys: []string{"enter"}, Label: "type", Help: "Type a value for what is under the cursor, with or without its unit; where it follows from others, go to these or show the whole.", Footer: true, Fixed: true},
		{ID: actStepSmaller, Scope: action.Everywhere, Keys: []string{","}, Label: "finer step", Help: "Make the step of a nudge smaller."},
		{ID: actStepLarger, Scope: action.Everywhere, Keys: []string{"."}, Label: "coarser step", Help: "Make the step of a nudge larger."},

		{ID: pane.Read, Scope: action.Everywhere, Keys: []string{"n"}, Label: "reading", Help: "Enter what the angle gauge shows.", Footer: true},
		{ID: pane.Delete, Scope: scopeDriveline, Keys: []string{"x", "delete"}, Label: "drop reading", Help: "Take the reading under the cursor out of the file."},
		{ID: pane.Tick, Scope: scopeJobs, Keys: []string{"space"}, Label: "tick", Help: "Mark the job under the cursor as done, or as open again.", Footer: true},
		{ID: pane.NextLeaf, Scope: action.Everywhere, Keys: []string{"pgdown", "]"}, Label: "page", Footer: true, Help: "Turn to the pane's next page. Its border names them, and the search goes straight to each."},
		{ID: pane.PrevLeaf, Scope: action.Everywhere, Keys: []string{"pgup", "["}, Label: "page before", Help: "Turn to the pane's page before."},
		{ID: drawing.NextView, Scope: action.Everywhere, Keys: []string{"v"}, Label: "next view", Help: "Draw the next view in the sketch: side, plan, front or three-quarter; where there is room others stand beside it."},
		{ID: drawing.Closer, Scope: action.Everywhere, Keys: []string{"c"}, Label: "closer", Help: "Draw only powertrain and driveline, or the whole vehicle again."},
		{ID: drawing.FitThis, Scope: action.Everywhere, Keys: []string{"F"}, Label: "near", Help: "Show in the sketch, as large as it goes, what the cursor is on: a mount, a gap, a bracket, a joint."},
		{ID: drawing.FitAll, Scope: action.Everywhere, Keys: []string{"0"}, Label: "show all", Help: "Show all of the sketch again after zooming or moving it."},
		{ID: drawing.ZoomIn, Scope: scopeSketch, Keys: []string{"i"}, Label: "nearer", Help: "Draw one view larger; two steps make it twice as large."},
		{ID: drawing.ZoomOut, Scope: scopeSketch, Keys: []string{"o"}, Label: "further off", Help: "Draw it smaller again."},
		{ID: drawing.TurnRight, Scope: scopeSketch, Keys: []string{"t"}, Label: "turn", Help: "Walk round the vehicle by 15 degrees, from the left towards the rear."},
		{ID: drawing.TurnLeft, Scope: scopeSketch, Keys: []string{"T"}, Label: "turn back", Help: "Walk round it the other way."},
		{ID: drawing.TurnUp, Scope: scopeSketch, Keys: []string{"e"}, Label: "from higher", Help: "Look at it from 15 degrees higher."},
		{ID: drawing.TurnDown, Scope: scopeSketch, Keys: []string{"E"}, Label: "from lower", Help: "Look at it from 15 degrees lower."},
		{ID: drawing.PanLeft, Scope: scopeSketch, Keys: []string{"shift+left"}, Label: "move left", Help: "Move over the drawing to the left."},
		{ID: drawing.PanRight, Scope: scopeSketch, Keys: []string{"shift+right"}, Label: "move right", Help: "Move over the drawing to the right."},
		{ID: drawing.PanUp, Scope: scopeSketch, Keys: []string{"shift+up"}, Label: "move up", Help: "Move over the drawing upwards."},
		{ID: drawing.PanDown, Scope: scopeSketch, Keys: []string{"shift+down"}, Label: "move down", Help: "Move over the drawing downwards."},

		{ID: actNextPane, Scope: action.Everywhere, Keys: []string{"tab"}, Label: "pane", Help: "Go to the next pane.", Footer: true},
		{ID: actPrevPane, Scope: action.Everywhere, Keys: []string{"shift+tab"}, Label: "previous pane", Help: "Go to the pane before."},
	}, focusActions(), []action.Action{
		{ID: actZoom, Scope: action.Everywhere, Keys: []string{"z"}, Label: "whole screen", Help: "Give the pane the whole screen, or share it again."},
		{ID: actLarge, Scope: action.Everywhere, Keys: []string{"b"}, Label: "large figures", Help: "Show the watched figure in digits that can be read from under the vehicle."},
	}, proposalActions(), []action.Action{
		{ID: actRound, Scope: action.Everywhere, Keys: []string{"B"}, Label: "round", Help: "Read one axis after the other, or measure one thing after the other, in digits that can be read from under the vehicle: a value and Enter."},
		{ID: actRoundOn, Scope: scopeRound, Keys: []string{"o"}, Label: "face or along", Help: "Say that the gauge stands on a face square to the axis, or along it."},
		{ID: actRoundAfter, Scope: scopeRound, Keys: []string{"a"}, Label: "what is fixed", Help: "Say that nothing is fixed yet, or that it is read after tacking or after welding."},
		{ID: actRoundStood, Scope: scopeRound, Keys: []string{"t"}, Label: "how it stands", Help: "Say how the vehicle stands: on its wheels, on stands, hanging."},
		{ID: actRoundPlace, Scope: scopeRound, Keys: []string{"p"}, Label: "where it hangs", Help: "Say that the powertrain hangs as planned now, or still where it was last read."},
		{ID: actRoundEach, Scope: scopeRound, Keys: []string{"e"}, Label: "repeats", Help: "Take one, two or more of each before the next comes up."},
		{ID: actRoundDrop, Scope: scopeRound, Keys: []string{"x", "delete"}, Label: "drop one", Help: "Take out one of the readings that cannot all be true."},

		{ID: actJobAdd, Scope: scopeJobs, Keys: []string{"a"}, Label: "own job", Help: "Add a job of your own behind the one under the cursor."},
		{ID: actJobList, Scope: scopeJobs, Keys: []string{"A"}, Label: "built-in list", Help: "Put the jobs of the built-in list that suit this build into the file."},
		{ID: actDoneTo, Scope: scopeJobs, Keys: []string{"U"}, Label: "done up to here", Help: "Tick every job up to the one under the cursor that needs no proof, and list those that do."},
		{ID: pane.DropJob, Scope: scopeJobs, Keys: []string{"x", "delete"}, Label: "drop job", Help: "Take the job under the cursor out of the list."},
		{ID: pane.JobUp, Scope: scopeJobs, Keys: []string{"K"}, Label: "job up", Help: "Move the job under the cursor up in the list."},
		{ID: pane.JobDown, Scope: scopeJobs, Keys: []string{"J"}, Label: "job down", Help: "Move the job under the cursor down in the list."},
		{ID: pane.Seen, Scope: scopeJobs, Keys: []string{"i"}, Label: "inspected", Help: "Enter who inspected the weld side under the cursor, on the fasteners page."},
		{ID: actEngine, Scope: scopeJobs, Keys: []string{"o"}, Label: "engine out, in", Help: "Note that the powertrain came out, or went back in."},
		{ID: actTape, Scope: scopeFrame, Keys: []string{"m"}, Label: "measurement", Help: "Enter what was taped between two points of the frame, with its repeats.", Footer: true},
		{ID: actMeasure, Scope: scopeJobs, Keys: []string{"m"}, Label: "measurement", Help: "Enter what tape, plumb line, level or another gauge shows, with its repeats."},
		{ID: actShake, Scope: scopeJobs, Keys: []string{"V"}, Label: "vibration", Help: "Find what a vibration comes from, by its speed and frequency."},

		{ID: actData, Scope: action.Everywhere, Keys: []string{"d"}, Label: "data", Help: "Open the page on which everything the file can hold is typed, or close it; on it Enter types a value and Tab goes on to the next.", Footer: true},
		{ID: actDataHere, Scope: action.Everywhere, Keys: []string{"D"}, Label: "data of this", Help: "Open that page at what the cursor is on: the data of a mount, a line, a part of the vehicle."},
		{ID: actDataNext, Scope: scopeData, Keys: []string{"g"}, Label: "next missing", Help: "Go to the next value that is missing: a finding lacks it, or what was begun is of no use without it.", Footer: true},
		{ID: actDataAdd, Scope: scopeData, Keys: []string{"a"}, Label: "add", Help: "Begin another entry of the list under the cursor: a part, a mount, a reading, a weld.", Footer: true},
		{ID: actDataMirror, Scope: scopeData, Keys: []string{"m"}, Label: "other side", Help: "Take over what the other side has for this value, with the offset the other way.", Footer: true},
		{ID: actDataClear, Scope: scopeData, Keys: []string{"x", "delete"}, Label: "clear", Help: "Take the value under the cursor out of the file.", Footer: true},
		{ID: actDataRemove, Scope: scopeData, Keys: []string{"X"}, Label: "take out", Help: "Take the whole entry under the cursor out of the file."},
		{ID: actDataCopy, Scope: scopeData, Keys: []string{"y"}, Label: "copy", Help: "Put a copy of the entry behind it, without what was found on that one alone."},
		{ID: actDataUp, Scope: scopeData, Keys: []string{"K"}, Label: "entry up", Help: "Move the entry under the cursor up in its list."},
		{ID: actDataDown, Scope: scopeData, Keys: []string{"J"}, Label: "entry down", Help: "Move the entry under the cursor down in its list."},
		{ID: actDataRename, Scope: scopeData, Keys: []string{"R"}, Label: "rename", Help: "Give a mount, a line or a side of a weld another name, and everything that refers to it."},

		{ID: actFindings, Scope: action.Everywhere, Keys: []string{"f"}, Label: "findings", Help: "List every finding with its limit, its source and what to do.", Footer: true},
		{ID: actInFull, Scope: action.Everywhere, Keys: []string{"h"}, Label: "in full", Help: "Read in full what there is to say of the row under the cursor, where its pane has no room for all of it."},
		{ID: actWatch, Scope: action.Everywhere, Keys: []string{"w"}, Label: "watch next", Help: "Watch another finding: every placement row shows what one step does to it."},
		{ID: actUndo, Scope: action.Everywhere, Keys: []string{"u"}, Label: "undo", Help: "Take back the last change.", Footer: true},
		{ID: actRedo, Scope: action.Everywhere, Keys: []string{"r"}, Label: "redo", Help: "Do again what was taken back."},
		{ID: actTrail, Scope: action.Everywhere, Keys: []string{"H"}, Label: "changes", Help: "List every change with what it did to the findings, and go back to any of them."},
		{ID: actSave, Scope: action.Everywhere, Keys: []string{"s", "ctrl+s"}, Label: "save", Help: "Save the build file.", Footer: true},
		{ID: actSaveAs, Scope: action.Everywhere, Keys: []string{"S"}, Label: "save as", Help: "Save under another name and go on with that file."},
		{ID: actSearch, Scope: action.Everywhere, Keys: []string{"/", ":"}, Label: "search", Help: "Search by words for an action, a value, a finding, a job or a part, and go to it."},
		{ID: actWalk, Scope: action.Everywhere, Label: "walk through the demo", Help: "Learn by doing, in two minutes: nudge, read, type, tick, undo."},
		{ID: actFit, Scope: action.Everywhere, Keys: []string{"esc"}, Label: "stop the survey", Help: "Stop working out a survey of very many measurements, or go on with it. Until it is worked out, nothing that rests on it is known."},
		{ID: actPrint, Scope: action.Everywhere, Keys: []string{"P"}, Label: "print", Help: "Print the build book, a sheet for under the vehicle or templates of true size into a folder; again while that goes on, to stop it."},
		{ID: actMessages, Scope: action.Everywhere, Keys: []string{"M"}, Label: "messages", Help: "Read in full what was said, the last first."},
		{ID: actHelp, Scope: action.Everywhere, Keys: []string{"?", "f1"}, Label: "help", Help: "Show what every key does.", Footer: true},
		{ID: actQuit, Scope: action.Everywhere, Keys: []string{"q", "ctrl+c"}, Label: "quit", Help: "Quit; unsaved work is asked about first.", Footer: true},
	}))
}
