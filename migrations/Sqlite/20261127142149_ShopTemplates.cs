using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Handwheel.Migrations.Sqlite
{
    /// <inheritdoc />
    public partial class ShopTemplates : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<Guid>(name: "ProvedIn", table: "Jobs", type: "TEXT", nullable: true);

            migrationBuilder.CreateTable(
                name: "ProvingTemplates",
                columns: table => new
                {
                    Number = table
                        .Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    MachineId = table.Column<Guid>(type: "TEXT", nullable: true),
                    Sha256 = table.Column<string>(type: "TEXT", maxLength: 64, nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false),
                    PersonId = table.Column<Guid>(type: "TEXT", nullable: false),
                    PersonName = table.Column<string>(type: "TEXT", nullable: false),
                    Why = table.Column<string>(type: "TEXT", nullable: false),
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_ProvingTemplates", x => x.Number);
                    table.ForeignKey(
                        name: "FK_ProvingTemplates_Files_Sha256",
                        column: x => x.Sha256,
                        principalTable: "Files",
                        principalColumn: "Sha256",
                        onDelete: ReferentialAction.Restrict
                    );
                    table.ForeignKey(
                        name: "FK_ProvingTemplates_Machines_MachineId",
                        column: x => x.MachineId,
                        principalTable: "Machines",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict
                    );
                }
            );

            migrationBuilder.CreateIndex(
                name: "IX_ProvingTemplates_MachineId",
                table: "ProvingTemplates",
                column: "MachineId"
            );

            migrationBuilder.CreateIndex(
                name: "IX_ProvingTemplates_Sha256",
                table: "ProvingTemplates",
                column: "Sha256"
            );
            migrationBuilder.OnlyAppend("ProvingTemplates");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(name: "ProvingTemplates");

            migrationBuilder.DropColumn(name: "ProvedIn", table: "Jobs");
        }
    }
}
