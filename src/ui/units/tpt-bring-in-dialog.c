#include "tpt-bring-in-dialog.h"

void
tpt_bring_in_dialog_present (GtkWindow *parent, TptProject *project, const char *station)
{
  gtk_window_present (GTK_WINDOW (tpt_visit_dialog_new (parent, project, station, TRUE)));
}
