#include "tpt-cautions-dialog.h"

struct _TptCautionsDialog {
  AdwWindow parent_instance;
};

G_DEFINE_FINAL_TYPE (TptCautionsDialog, tpt_cautions_dialog, ADW_TYPE_WINDOW)

static void
tpt_cautions_dialog_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), TPT_TYPE_CAUTIONS_DIALOG);

  G_OBJECT_CLASS (tpt_cautions_dialog_parent_class)->dispose (object);
}

static void
tpt_cautions_dialog_class_init (TptCautionsDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_cautions_dialog_dispose;

  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/field/tpt-cautions-dialog.ui");
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "window.close", NULL);
}

static void
tpt_cautions_dialog_init (TptCautionsDialog *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

void
tpt_cautions_dialog_present (GtkWindow *parent)
{
  gtk_window_present (g_object_new (TPT_TYPE_CAUTIONS_DIALOG, "transient-for", parent, NULL));
}
