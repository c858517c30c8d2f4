#include "config.h"

#include "tpt-species-line.h"

#include <glib/gi18n-lib.h>

#include "tpt-fold.h"
#include "tpt-words.h"

struct _TptSpeciesLine {
  GtkListBoxRow parent_instance;

  TptRecord *record; /* (owned) */
  char *names;       /* (owned): folded, all of them */

  GtkLabel *title, *scientific, *seen, *sensitivity;
  GtkWidget *edit, *remove;
};

G_DEFINE_FINAL_TYPE (TptSpeciesLine, tpt_species_line, GTK_TYPE_LIST_BOX_ROW)

enum {
  SIGNAL_EDIT_ASKED,
  SIGNAL_REMOVE_ASKED,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

static void
edit_cb (TptSpeciesLine *self)
{
  g_signal_emit (self, signals[SIGNAL_EDIT_ASKED], 0);
}

static void
remove_cb (TptSpeciesLine *self)
{
  g_signal_emit (self, signals[SIGNAL_REMOVE_ASKED], 0);
}

static gboolean
delete_key_cb (GtkWidget *widget, GVariant *unused, gpointer data)
{
  if (gtk_widget_is_sensitive (TPT_SPECIES_LINE (widget)->remove))
    remove_cb (TPT_SPECIES_LINE (widget));
  return TRUE;
}

static void
tpt_species_line_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), TPT_TYPE_SPECIES_LINE);
  g_clear_object (&TPT_SPECIES_LINE (object)->record);

  G_OBJECT_CLASS (tpt_species_line_parent_class)->dispose (object);
}

static void
tpt_species_line_finalize (GObject *object)
{
  g_free (TPT_SPECIES_LINE (object)->names);

  G_OBJECT_CLASS (tpt_species_line_parent_class)->finalize (object);
}

static void
tpt_species_line_class_init (TptSpeciesLineClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  GType type = G_TYPE_FROM_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_species_line_dispose;
  G_OBJECT_CLASS (klass)->finalize = tpt_species_line_finalize;

  signals[SIGNAL_EDIT_ASKED] = g_signal_new ("edit-asked", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[SIGNAL_REMOVE_ASKED] = g_signal_new ("remove-asked", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);

  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/species/tpt-species-line.ui");
  gtk_widget_class_bind_template_child (widget_class, TptSpeciesLine, title);
  gtk_widget_class_bind_template_child (widget_class, TptSpeciesLine, scientific);
  gtk_widget_class_bind_template_child (widget_class, TptSpeciesLine, seen);
  gtk_widget_class_bind_template_child (widget_class, TptSpeciesLine, sensitivity);
  gtk_widget_class_bind_template_child (widget_class, TptSpeciesLine, edit);
  gtk_widget_class_bind_template_child (widget_class, TptSpeciesLine, remove);
  gtk_widget_class_bind_template_callback (widget_class, edit_cb);
  gtk_widget_class_bind_template_callback (widget_class, remove_cb);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Delete, 0, delete_key_cb, NULL);
}

static void
tpt_species_line_init (TptSpeciesLine *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

static void
collect_names (TptSpeciesLine *self)
{
  GString *all = g_string_new (NULL);
  g_autofree char *scientific = tpt_fold_text (tpt_record_get_code (self->record));
  GHashTableIter iter;
  gpointer name;

  g_string_append (all, scientific);
  g_hash_table_iter_init (&iter, tpt_record_get_names (self->record));
  while (g_hash_table_iter_next (&iter, NULL, &name))
    {
      g_autofree char *folded = tpt_fold_text (name);

      g_string_append_printf (all, "\n%s", folded);
    }
  self->names = g_string_free (all, FALSE);
}

static void
name_button (GtkWidget *button, const char *format, const char *title)
{
  g_auto (GStrv) parts = g_strsplit (format, "%s", 2);
  g_autofree char *name = g_strjoinv (title, parts);

  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  gtk_widget_set_tooltip_text (button, name);
}

static char *
say_seen (gint64 seen)
{
  g_autofree char *number = tpt_words_number ((double) seen);

  return seen > 0 ? g_strdup_printf (ngettext ("%s observation", "%s observations", (gulong) seen), number)
                  : g_strdup (_("not seen yet"));
}

static void
show (TptSpeciesLine *self, const TptSpeciesEntry *entry)
{
  const char *scientific = tpt_record_get_code (entry->record), *secret = tpt_record_get_text (entry->record, "sensitivity");
  g_autofree char *seen = say_seen (entry->seen);
  g_autofree char *word = secret != NULL ? tpt_choice_inline (secret) : NULL;
  g_autofree char *sensitivity = word != NULL && !g_str_equal (secret, "none") ? g_strdup_printf (_("sensitivity %s"), word) : NULL;
  g_autofree char *whole = g_strjoin (", ", entry->title, scientific, seen, sensitivity, NULL);

  gtk_label_set_label (self->title, entry->title);
  gtk_label_set_label (self->scientific, scientific);
  gtk_widget_set_visible (GTK_WIDGET (self->scientific), !g_str_equal (entry->title, scientific));
  gtk_label_set_label (self->seen, seen);
  gtk_label_set_label (self->sensitivity, sensitivity != NULL ? sensitivity : "");
  gtk_widget_set_visible (GTK_WIDGET (self->sensitivity), sensitivity != NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, whole, -1);
}

GtkWidget *
tpt_species_line_new (const TptSpeciesEntry *entry, gboolean writable)
{
  TptSpeciesLine *self = g_object_new (TPT_TYPE_SPECIES_LINE, NULL);

  self->record = g_object_ref (entry->record);
  collect_names (self);
  show (self, entry);
  name_button (self->edit, _("Edit %s…"), entry->title);
  name_button (self->remove, _("Remove %s"), entry->title);
  gtk_widget_set_sensitive (self->edit, writable);
  gtk_widget_set_sensitive (self->remove, writable && entry->seen == 0);
  if (writable && entry->seen > 0)
    gtk_widget_set_tooltip_text (self->remove, _("Observations name it, so it stays."));
  return GTK_WIDGET (self);
}

TptRecord *
tpt_species_line_get_record (TptSpeciesLine *self)
{
  return self->record;
}

gboolean
tpt_species_line_fits (TptSpeciesLine *self, const char *text)
{
  g_autofree char *folded = tpt_fold_text (text);

  return tpt_fold_fits (self->names, folded);
}
